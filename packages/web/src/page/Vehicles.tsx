import { useRef } from "preact/hooks";
import type { Refusal } from "../live/client.ts";
import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";
import { Dialog } from "./Dialog.tsx";
import { openFiles } from "./files.ts";

const MOST_SHOWN = 8;

/** The fleet, and the way in for a file of one's own. */
export function Vehicles({ onClose }: { onClose: () => void }) {
  const live = useLive();
  const input = useRef<HTMLInputElement>(null);
  const now = live.vehicle.value;
  return (
    <Dialog title={text.vehicles.title} close={text.vehicles.close} onClose={onClose}>
      <h3>{text.vehicles.fleet}</h3>
      <ul class="fleet">
        {live.fleet.value.map((entry) => {
          const current = now?.source.from === "fleet" && now.source.id === entry.id;
          return (
            <li key={entry.id}>
              <button
                type="button"
                class="key"
                aria-pressed={current}
                onClick={() => {
                  live.open({ from: "fleet", id: entry.id });
                  onClose();
                }}
              >
                <b>{entry.title}</b>
                {current ? <span>{text.vehicles.current}</span> : null}
              </button>
            </li>
          );
        })}
      </ul>
      <h3>{text.vehicles.own}</h3>
      <input
        ref={input}
        class="unseen"
        type="file"
        multiple
        accept=".json,application/json"
        tabIndex={-1}
        aria-label={text.vehicles.openFile}
        onChange={() => {
          void openFiles(live, [...(input.current?.files ?? [])]);
          onClose();
        }}
      />
      <button type="button" class="key open-file" onClick={() => input.current?.click()}>
        {text.vehicles.openFile}
      </button>
      <p class="hint">{text.vehicles.openHint}</p>
      {now ? (
        <>
          {now.allValues > 0 ? <p class="hint">{text.vehicles.typical(now.typicalValues, now.allValues)}</p> : null}
          {now.notes.map((note) => (
            <p key={note} class="hint">
              {note}
            </p>
          ))}
        </>
      ) : null}
    </Dialog>
  );
}

/** A file that was not taken: where, what is wrong, what would be right. The running vehicle is untouched. */
export function Refused({ refusal }: { refusal: Refusal }) {
  const live = useLive();
  const shown = refusal.problems.slice(0, MOST_SHOWN);
  const title = text.vehicles.refusedTitle(refusal.name);
  return (
    <Dialog
      title={title}
      close={text.vehicles.close}
      onClose={() => {
        live.refusal.value = null;
      }}
    >
      {live.vehicle.value ? <p>{text.vehicles.refusedStays(live.vehicle.value.title)}</p> : null}
      <ul class="problems">
        {shown.map((p) => (
          <li key={p.path + p.message}>
            <dl>
              <dt>{text.vehicles.place}</dt>
              <dd class="path">{p.path}</dd>
              <dt>{text.vehicles.wrong}</dt>
              <dd>{p.message}</dd>
              <dt>{text.vehicles.remedy}</dt>
              <dd>{p.remedy}</dd>
            </dl>
          </li>
        ))}
      </ul>
      {refusal.problems.length > shown.length ? (
        <p>{text.vehicles.more(refusal.problems.length - shown.length)}</p>
      ) : null}
    </Dialog>
  );
}
