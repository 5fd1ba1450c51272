import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** A sheet laid over the page. Escape closes it; the focus stays inside and goes back where it was. */
export function Dialog({
  title,
  close,
  onClose,
  children,
}: {
  title: string;
  close: string;
  onClose: () => void;
  children: ComponentChildren;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} class="dialog" aria-label={title} onClose={onClose}>
      <header>
        <h2>{title}</h2>
        <button type="button" class="key" onClick={() => dialog.current?.close()}>
          {close}
        </button>
      </header>
      {children}
    </dialog>
  );
}
