import { forgetMoved, moved } from '../../state/moved.ts';
import { NeckShares } from './NeckShares.tsx';

const SHOWN = 5;

/** What the last change of an assumption, or of whose travel it is, did to the necks. */
export function Moved() {
  const necks = moved.value;
  if (!necks) return null;
  return (
    <section class="moved" aria-label="What the change moved" aria-live="polite">
      <h3 class="moved-head">What the change moved</h3>
      {necks.length === 0 ? (
        <p>
          No neck’s share moved by half a percent of all travel: the ranking of the necks hardly depends on
          it.
        </p>
      ) : (
        <NeckShares caption="Share of all travel, the largest moves first" necks={necks.slice(0, SHOWN)} />
      )}
      {necks.length > SHOWN && <p class="spread-words">{necks.length - SHOWN} more moved less.</p>}
      <button type="button" class="quiet small" onClick={forgetMoved}>
        Put away
      </button>
    </section>
  );
}
