import { useEffect, useMemo, useState } from "preact/hooks";
import { Around } from "../cab/Around.tsx";
import { soundBuzzer } from "../cab/buzzer.ts";
import { Cab } from "../cab/Cab.tsx";
import { Driver } from "../cab/driver.ts";
import type { LiveClient } from "../live/client.ts";
import { LiveContext } from "../live/live.ts";
import { text } from "../text/text.ts";
import { Trace } from "../trace/Trace.tsx";
import { TraceStore } from "../trace/traceStore.ts";
import { Dock } from "./Dock.tsx";
import { lastEvent, noteEvents, notePedal } from "./events.ts";
import { openFiles, saveFile } from "./files.ts";
import { Header } from "./Header.tsx";
import { Keys } from "./Keys.tsx";
import { listenToKeys } from "./keyboard.ts";
import { Sheet } from "./Sheet.tsx";
import { settings, type View } from "./settings.ts";
import { Clock, TimeBar } from "./TimeBar.tsx";
import { Refused, Vehicles } from "./Vehicles.tsx";

type Door = "vehicles" | "keys" | null;

/** The whole page: title block, sheet, and below it the cab with its traces. */
export function App({ live }: { live: LiveClient }) {
  const [door, setDoor] = useState<Door>(null);
  const driver = useMemo(() => new Driver(live), [live]);
  const store = useMemo(() => new TraceStore(4), []);
  useEffect(() => wire(live, driver, store, setDoor), [live, driver, store]);
  const vehicle = live.vehicle.value;
  const refusal = live.refusal.value;
  return (
    <LiveContext.Provider value={live}>
      <div class="page" data-view={settings.view.value}>
        <Header onVehicles={() => setDoor("vehicles")} onKeys={() => setDoor("keys")} />
        {vehicle ? (
          <Yard live={live} driver={driver} store={store} />
        ) : (
          <p class="opening">{live.failure.value ? text.failed(live.failure.value) : text.opening}</p>
        )}
        {door === "vehicles" ? <Vehicles onClose={() => setDoor(null)} /> : null}
        {door === "keys" ? <Keys onClose={() => setDoor(null)} /> : null}
        {refusal ? <Refused refusal={refusal} /> : null}
      </div>
    </LiveContext.Provider>
  );
}

function Yard({ live, driver, store }: { live: LiveClient; driver: Driver; store: TraceStore }) {
  const vehicle = live.vehicle.value!;
  const key = `${vehicle.title} ${live.opened.value}`;
  const stopped = live.stopped.value;
  return (
    <main key={key}>
      <Sheet vehicle={vehicle} />
      <div class="lower">
        <Views driver={driver} />
        <div class="history">
          <Trace store={store} />
          <div class="now">
            <Clock />
            <p class="event-line" aria-live="polite">
              {stopped ? text.time.stopped(stopped) : lastEvent}
            </p>
          </div>
          <TimeBar />
        </div>
        <Cab driver={driver} />
        <Around driver={driver} />
      </div>
      <Dock driver={driver} />
    </main>
  );
}

const VIEWS: View[] = ["air", "wheels", "cab", "around", "traces"];

/** Which of the pages stands below the picture; on a phone, which stands alone. */
function Views({ driver }: { driver: Driver }) {
  return (
    <nav class="views" aria-label={text.views.choose}>
      {VIEWS.map((view) => (
        <button
          key={view}
          type="button"
          class={`key view-${view}`}
          aria-pressed={settings.view.value === view}
          onClick={() => {
            settings.view.value = view;
          }}
        >
          {text.views[view]}
        </button>
      ))}
      {driver.has("chocks") ? <Chocks driver={driver} /> : null}
    </nav>
  );
}

/** Chocks stand beside every page, because releasing a brake comes after them. */
function Chocks({ driver }: { driver: Driver }) {
  const on = driver.at("chocks") > 0.5;
  return (
    <button type="button" class="key chocks" aria-pressed={on} onClick={() => driver.toggle("chocks")}>
      {text.around.chocks} <span class="item-state">{on ? text.around.chocksIn : text.around.chocksOut}</span>
    </button>
  );
}

function drop(event: DragEvent, live: LiveClient): void {
  event.preventDefault();
  void openFiles(live, [...(event.dataTransfer?.files ?? [])]);
}

/** Joins the parts that have no picture of their own: events, traces, keys, sound, files. */
function wire(live: LiveClient, driver: Driver, store: TraceStore, setDoor: (door: Door) => void): () => void {
  live.onEvents = (events) => noteEvents(events, store);
  live.onRows = (rows) => store.add(rows);
  live.onRunSaved = saveFile;
  live.onControl = (control, value) => {
    const pedal = driver.info("pedal");
    if (control === "pedal" && pedal) notePedal(pedal, value, live.tick.value, store);
  };
  let silence = () => {};
  live.onOpened = () => {
    store.clear();
    lastEvent.value = "";
    silence();
    silence = soundBuzzer(live.instruments, () => live.pace.value > 0);
  };
  const stopKeys = listenToKeys(live, driver, { vehicles: () => setDoor("vehicles"), keys: () => setDoor("keys") });
  const hide = () => live.forgetElapsed();
  const dropped = (event: DragEvent) => drop(event, live);
  const allow = (event: DragEvent) => event.preventDefault();
  document.addEventListener("visibilitychange", hide);
  document.addEventListener("dragover", allow);
  document.addEventListener("drop", dropped);
  return () => {
    stopKeys();
    silence();
    document.removeEventListener("visibilitychange", hide);
    document.removeEventListener("dragover", allow);
    document.removeEventListener("drop", dropped);
  };
}
