import { render } from "preact";
import { LiveClient } from "./live/client.ts";
import type { FromWorker, Line, ToWorker } from "./live/contract.ts";
import { App } from "./page/App.tsx";
import { keepSettings } from "./page/settings.ts";
import "./style/tokens.css";
import "./style/page.css";
import "./style/cab.css";
import "./style/picture.css";

keepSettings();
const worker = new Worker(new URL("./live/worker.ts", import.meta.url), { type: "module" });
const live = new LiveClient(worker as Line<ToWorker, FromWorker>);
worker.onerror = (event) => live.fail(event.message);
const animate = (nowMs: number) => {
  live.animate(nowMs);
  requestAnimationFrame(animate);
};
requestAnimationFrame(animate);
const place = document.getElementById("page");
if (place) render(<App live={live} />, place);
