import { forgetMoved, moved } from '../../state/moved.ts';

const SHOWN = 6;

/** What the last change of an assumption did to the necks. */
export function Moved() {
  const lines = moved.value;
  if (!lines) return null;
  return (
    <section class="moved" aria-label="What the change moved" aria-live="polite">
      <h3 class="moved-head">What the change moved</h3>
      {lines.length === 0 ? (
        <p>No neck’s share moved by half a percent of all travel.</p>
      ) : (
        <ul>
          {lines.slice(0, SHOWN).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {lines.length > SHOWN && <p class="spread-words">{lines.length - SHOWN} more moved less.</p>}
      <button type="button" class="quiet small" onClick={forgetMoved}>
        Put away
      </button>
    </section>
  );
}
