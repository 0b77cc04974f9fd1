import { canRedo, canUndo, drawing, pen, redo, sketch, undo } from '../state/editing.ts';
import type { Shape } from '../words/drawable.ts';
import { PositionForm } from './PositionForm.tsx';

/** Shown while something is being drawn: what to do next, and every key as a button. */
export function DrawBar() {
  const kind = drawing.value;
  if (!kind) return null;
  return (
    <section class="card draw-bar" aria-label={`Drawing: ${kind.title}`}>
      <p class="draw-words">
        <strong>{kind.title}</strong> <SketchWords shape={kind.shape} />
      </p>
      <SketchTools shape={kind.shape} stop="Stop drawing" />
    </section>
  );
}

const leastOf = (shape: Shape): number => (shape === 'Polygon' ? 3 : shape === 'LineString' ? 2 : 1);

/** What is set so far, what it measures, and what to do next. */
export function SketchWords({ shape }: { shape: Shape }) {
  const { points, measure } = sketch.value;
  return (
    <>
      <span role="status">
        {shape === 'Point'
          ? 'Click the place.'
          : points === 0
            ? 'Click the first point.'
            : `${points} ${points === 1 ? 'point' : 'points'}. ${points < leastOf(shape) ? 'Go on.' : 'Double-click or Finish to end.'}`}
      </span>
      {measure && <span class="draw-measure">{measure}</span>}
    </>
  );
}

export function SketchTools({ shape, stop }: { shape: Shape; stop: string }) {
  const { points } = sketch.value;
  return (
    <>
      <div class="draw-buttons">
        <button type="button" class="quiet" disabled={!canUndo.value} onClick={undo}>
          Undo
        </button>
        <button type="button" class="quiet" disabled={!canRedo.value} onClick={redo}>
          Redo
        </button>
        {shape !== 'Point' && (
          <button
            type="button"
            class="strong"
            disabled={points < leastOf(shape)}
            onClick={() => pen.value?.finish()}
          >
            Finish
          </button>
        )}
        <button type="button" class="quiet" onClick={() => pen.value?.cancel()}>
          {stop}
        </button>
      </div>
      <PositionForm label="Add point" put={(at) => pen.value?.addAt([[at[0], at[1]]])} />
      <p class="hint">
        With the map in focus: Space sets a point at the cross, Enter ends, Backspace takes one back.
      </p>
    </>
  );
}
