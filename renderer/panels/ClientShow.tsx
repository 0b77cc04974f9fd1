import { useEffect, useRef } from 'preact/hooks';
import { endShow, keptViews, showing, stepView } from '../state/showing.ts';
import { Glyph } from './Glyph.tsx';

/** The caption of the view that is shown to the client, and the way to the next; arrow keys turn, Escape ends. */
export function ClientShow() {
  const bar = useRef<HTMLElement>(null);
  const at = showing.value;
  const views = keptViews.value;
  const view = at === null ? null : views[at];
  useEffect(() => {
    if (view) bar.current?.focus();
  }, [view !== null]);
  if (at === null || !view) return null;
  return (
    <section ref={bar} class="client-show" aria-label="Views for the client" tabIndex={-1}>
      <p class="client-caption" aria-live="polite">
        {view.caption || `View ${at + 1}`}
      </p>
      <p class="client-place">
        {at + 1} of {views.length}
      </p>
      <button type="button" class="quiet" disabled={at === 0} onClick={() => stepView(-1)}>
        Back
      </button>
      <button type="button" class="quiet" disabled={at === views.length - 1} onClick={() => stepView(1)}>
        Next
      </button>
      <button type="button" class="quiet icon" onClick={endShow}>
        <Glyph name="close" />
        <span class="unseen">End showing</span>
      </button>
    </section>
  );
}
