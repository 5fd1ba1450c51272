import { text } from "../text/text.ts";
import { Dialog } from "./Dialog.tsx";

/** The list of keys. */
export function Keys({ onClose }: { onClose: () => void }) {
  return (
    <Dialog title={text.keys.title} close={text.keys.close} onClose={onClose}>
      <dl class="keys">
        {text.keys.list.map(([key, what]) => (
          <div key={key}>
            <dt class="figure">{key}</dt>
            <dd>{what}</dd>
          </div>
        ))}
      </dl>
    </Dialog>
  );
}
