import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { aim, stopAim } from '../state/aiming.ts';
import { drawing, pen, redo, removeFeature, undo } from '../state/editing.ts';
import { handAt, letGo, toggleHold } from '../state/hand.ts';
import { helpOpen } from '../state/help.ts';
import { measureTool, putMeasureAway } from '../state/measuring.ts';
import { filesOf, opening, takeIn } from '../state/opening.ts';
import { painting, putBrushDown } from '../state/painting.ts';
import { notice, report, summary, troubles } from '../state/session.ts';
import { endShow, showing, stepView } from '../state/showing.ts';
import { STAGES } from '../state/stages.ts';
import { goTo, selection, startOpen } from '../state/view.ts';
import { ClientShow } from './ClientShow.tsx';
import { Help } from './Help.tsx';
import { MapPane } from './MapPane.tsx';
import { Masthead } from './Masthead.tsx';
import { Page } from './Page.tsx';
import { QuestionDialog } from './QuestionDialog.tsx';
import { Spine } from './Spine.tsx';
import { Start } from './Start.tsx';
import { Troubles } from './Troubles.tsx';

const dropping = signal(false);

export function App() {
  useEffect(() => {
    const stops = [onWindow('keydown', globalKey), ...dropHandlers()];
    return () => {
      for (const stop of stops) stop();
    };
  }, []);
  const property = summary.value;
  const starting = property === null || startOpen.value;
  return (
    <div
      class={starting || !property ? 'window starting' : showing.value !== null ? 'window showing' : 'window'}
    >
      {property && !starting && (
        <a class="skip" href="#findings">
          Skip to the findings
        </a>
      )}
      <Masthead />
      {property === undefined && <Connecting />}
      {starting && <Start />}
      {property && !starting && (
        <>
          <Spine />
          <MapPane />
          <Page />
          <ClientShow />
        </>
      )}
      <Troubles />
      <p class="notice" role="status">
        {opening.value ? `${opening.value}…` : notice.value}
      </p>
      {dropping.value && (
        <div class="drop" aria-hidden="true">
          <p>Let go to take these in</p>
        </div>
      )}
      <QuestionDialog />
      <Help />
    </div>
  );
}

/** Before the first answer: a first sample takes seconds, and a still window would look broken. */
function Connecting() {
  return (
    <main class="start" aria-busy="true">
      <p class="connecting" role="status">
        {troubles.value.length === 0
          ? 'Bringing the property onto its grid. The first time takes a few seconds.'
          : 'There is no property to show.'}
      </p>
    </main>
  );
}

function onWindow<K extends keyof WindowEventMap>(
  type: K,
  handler: (event: WindowEventMap[K]) => void,
): () => void {
  window.addEventListener(type, handler);
  return () => window.removeEventListener(type, handler);
}

function dropHandlers(): (() => void)[] {
  const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
  return [
    onWindow('dragover', (event) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      dropping.value = true;
    }),
    onWindow('dragleave', (event) => {
      if (event.relatedTarget === null) dropping.value = false;
    }),
    onWindow('drop', (event) => {
      dropping.value = false;
      if (!event.dataTransfer || !carriesFiles(event)) return;
      event.preventDefault();
      filesOf(event.dataTransfer).then(takeIn).catch(report);
    }),
  ];
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.matches('input:not([type=checkbox]):not([type=range]), select, textarea');

/** Keys that work anywhere: 1-7 stages, ? their help, Ctrl+Z and Ctrl+Shift+Z, Escape, Delete. */
function globalKey(event: KeyboardEvent): void {
  if (!summary.value || isTyping(event.target) || document.querySelector('dialog[open]')) return;
  if (showing.value !== null) {
    showKey(event);
    return;
  }
  const command = event.ctrlKey || event.metaKey;
  const key = event.key.toLowerCase();
  if (command && key === 'z') {
    event.preventDefault();
    void (event.shiftKey ? redo() : undo());
  } else if (command && key === 'y') {
    event.preventDefault();
    void redo();
  } else if (command || event.altKey) {
    return;
  } else if (key === 'escape') {
    if (pen.value) pen.value.cancel();
    else if (painting.value) putBrushDown();
    else if (measureTool.value) putMeasureAway();
    else if (aim.value) stopAim();
    else if (handAt.value) letGo();
    else selection.value = null;
  } else if (key === '?') {
    helpOpen.value = true;
  } else if (key === 'h') {
    if (toggleHold()) event.preventDefault();
  } else if (key === 'delete' && selection.value?.type === 'feature' && !drawing.value) {
    void removeFeature(selection.value.id);
  } else {
    const stage = STAGES[Number(key) - 1];
    if (stage && !startOpen.value) goTo(stage);
  }
}

/** While views are shown to the client: arrows and pages turn, Escape ends. */
function showKey(event: KeyboardEvent): void {
  if (event.key === 'Escape') endShow();
  else if (event.key === 'ArrowRight' || event.key === 'PageDown') stepView(1);
  else if (event.key === 'ArrowLeft' || event.key === 'PageUp') stepView(-1);
  else return;
  event.preventDefault();
}
