import { captionView, dropView, keptViews, moveView, showView } from '../state/showing.ts';
import { STAGE_TITLE, type Stage } from '../state/stages.ts';
import { Section } from './Finding.tsx';

/** The kept views with their captions, in the order they are shown. */
export function ClientViews() {
  const views = keptViews.value;
  return (
    <Section title="Views for the client">
      {views.length === 0 ? (
        <p class="facts">
          None yet. On any stage, lay the map out as the client should see it and press “Keep this view” among
          the map’s tools; the views are then shown here one after another, each with your words.
        </p>
      ) : (
        <>
          <ol class="client-views">
            {views.map(({ id, caption, stage }, k) => (
              <li key={id}>
                <label for={`caption-${id}`}>
                  View {k + 1}, {STAGE_TITLE[stage as Stage]}
                </label>
                <input
                  id={`caption-${id}`}
                  type="text"
                  maxLength={2000}
                  placeholder="What you say of it"
                  value={caption}
                  onChange={(event) => void captionView(id, event.currentTarget.value)}
                />
                <span class="client-view-moves">
                  <button type="button" class="quiet small" onClick={() => showView(k)}>
                    Show
                  </button>
                  <button
                    type="button"
                    class="quiet small"
                    disabled={k === 0}
                    onClick={() => void moveView(id, -1)}
                  >
                    Earlier<span class="unseen"> view {k + 1}</span>
                  </button>
                  <button
                    type="button"
                    class="quiet small"
                    disabled={k === views.length - 1}
                    onClick={() => void moveView(id, 1)}
                  >
                    Later<span class="unseen"> view {k + 1}</span>
                  </button>
                  <button type="button" class="quiet small" onClick={() => void dropView(id)}>
                    Remove<span class="unseen"> view {k + 1}</span>
                  </button>
                </span>
              </li>
            ))}
          </ol>
          <button type="button" class="strong" onClick={() => showView(0)}>
            Show them to the client
          </button>
        </>
      )}
    </Section>
  );
}
