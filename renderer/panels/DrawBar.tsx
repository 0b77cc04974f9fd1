import { canRedo, canUndo, drawing, pen, redo, sketch, undo } from '../state/editing.ts';
import { PositionForm } from './PositionForm.tsx';

/** Shown while something is being drawn: what to do next, and every key as a button. */
export function DrawBar() {
  const kind = drawing.value;
  if (!kind) return null;
  const { points, measure } = sketch.value;
  const least = kind.shape === 'Polygon' ? 3 : kind.shape === 'LineString' ? 2 : 1;
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
      <PositionForm label="Add point" put={(at) => pen.value?.addAt([[at[0], at[1]]])} />
      <p class="hint">
        With the map in focus: Space sets a point at the cross, Enter ends, Backspace takes one back.
      </p>
    </section>
  );
}
