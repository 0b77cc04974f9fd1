import { useEffect, useRef } from 'preact/hooks';
import { helpOpen } from '../state/help.ts';
import { STAGE_TITLE } from '../state/stages.ts';
import { stage } from '../state/view.ts';
import { HELP, HELP_TITLES, type HelpPage } from '../words/help.ts';
import { Methods } from './Methods.tsx';

const PARTS = Object.keys(HELP_TITLES) as (keyof HelpPage)[];

const KEYS: [keys: string, what: string][] = [
  ['1 to 7', 'go to a stage'],
  ['Arrow keys, + and −', 'move and zoom the map while it has the focus'],
  ['Enter on the map', 'read, aim or draw at the cross in the middle'],
  ['H', 'keep what is told of the spot under the pointer or the cross, or let it go'],
  ['Ctrl+Z, Ctrl+Shift+Z', 'undo and redo, without limit'],
  ['Esc', 'leave what is being drawn, asked or chosen'],
  ['Delete', 'remove the chosen feature'],
  ['?', 'this page'],
];

/** One short page about the stage in front of the person. */
export function Help() {
  const dialog = useRef<HTMLDialogElement>(null);
  const open = helpOpen.value;
  useEffect(() => {
    if (open && !dialog.current?.open) dialog.current?.showModal();
    if (!open && dialog.current?.open) dialog.current.close();
  }, [open]);
  const close = () => {
    helpOpen.value = false;
  };
  const title = STAGE_TITLE[stage.value];
  const page = HELP[stage.value];
  return (
    <dialog ref={dialog} class="help" aria-labelledby="help-title" onClose={close}>
      {open && (
        <>
          <h2 id="help-title" class="question">
            About {title}
          </h2>
          {PARTS.map((part) => (
            <section key={part} class={part}>
              <h3>{HELP_TITLES[part]}</h3>
              {page[part].map((line) => (
                <p key={line}>{line}</p>
              ))}
            </section>
          ))}
          <Methods stage={title} />
          <details>
            <summary>Keys</summary>
            <dl class="help-keys">
              {KEYS.map(([keys, what]) => (
                <div key={keys}>
                  <dt>{keys}</dt>
                  <dd>{what}</dd>
                </div>
              ))}
            </dl>
          </details>
          <div class="answers">
            <button type="button" class="strong" onClick={close}>
              Close
            </button>
          </div>
        </>
      )}
    </dialog>
  );
}

/** Opens the page; stands beside the stage's title. */
export function HelpButton() {
  return (
    <button
      type="button"
      class="quiet about"
      onClick={() => {
        helpOpen.value = true;
      }}
    >
      <span aria-hidden="true">?</span>
      <span class="unseen">About {STAGE_TITLE[stage.value]}</span>
    </button>
  );
}
