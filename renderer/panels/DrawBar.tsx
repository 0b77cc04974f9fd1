import { useRef } from 'preact/hooks';
import { canRedo, canUndo, drawing, pen, redo, sketch, undo } from '../state/editing.ts';
import { report, summary } from '../state/session.ts';
import { geographer, parsePosition } from '../words/coordinates.ts';

/** Shown while something is being drawn: what to do next, and every key as a button. */
export function DrawBar() {
  const typed = useRef<HTMLInputElement>(null);
  const kind = drawing.value;
  if (!kind) return null;
  const { points, measure } = sketch.value;
  const least = kind.shape === 'Polygon' ? 3 : kind.shape === 'LineString' ? 2 : 1;
  const add = (event: Event) => {
    event.preventDefault();
    const text = typed.current?.value ?? '';
    const place = parsePosition(text);
    if (!place) {
      report({
        trouble: {
          kind: 'problem',
          message: `“${text}” is not a position.`,
          file: null,
          fix: 'Write latitude, then longitude, in degrees: 39.42318, -82.11077.',
          question: null,
        },
      });
      return;
    }
    pen.value?.addAt([geographer(summary.value!.frame).toFrame(place)]);
    if (typed.current) typed.current.value = '';
  };
  return (
    <section class="card draw-bar" aria-label={`Drawing: ${kind.title}`}>
      <p class="draw-words">
        <strong>{kind.title}</strong>{' '}
        <span role="status">
          {kind.shape === 'Point'
            ? 'Click the place.'
            : points === 0
              ? 'Click the first point.'
              : `${points} ${points === 1 ? 'point' : 'points'}${measure ? `, ${measure}` : ''}. ${points < least ? 'Go on.' : 'Double-click or Finish to end.'}`}
        </span>
      </p>
      <div class="draw-buttons">
        <button type="button" class="quiet" disabled={!canUndo.value} onClick={undo}>
          Undo
        </button>
        <button type="button" class="quiet" disabled={!canRedo.value} onClick={redo}>
          Redo
        </button>
        {kind.shape !== 'Point' && (
          <button type="button" class="strong" disabled={points < least} onClick={() => pen.value?.finish()}>
            Finish
          </button>
        )}
        <button type="button" class="quiet" onClick={() => pen.value?.cancel()}>
          Stop drawing
        </button>
      </div>
      <form class="draw-typed" onSubmit={add}>
        <label>
          <span class="unseen">Add a point by latitude and longitude</span>
          <input ref={typed} placeholder="39.42318, -82.11077" autocomplete="off" size={20} />
        </label>
        <button type="submit" class="quiet">
          Add point
        </button>
      </form>
      <p class="hint">
        With the map in focus: Space sets a point at the cross, Enter ends, Backspace takes one back.
      </p>
    </section>
  );
}
