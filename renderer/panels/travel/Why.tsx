import { decimal } from '../../../core/features/units.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { rowsOf } from '../../state/rows.ts';
import { table } from '../../state/tables.ts';
import { aimWhy, why } from '../../state/travel-asks.ts';
import { flyTo } from '../../state/view.ts';
import { Asking } from '../Asking.tsx';
import { Section } from '../Finding.tsx';

/** Why travel is dear or cheap at a spot, and what passes there. */
export function Why() {
  return (
    <>
      <p class="facts">What makes a spot dear or cheap to cross, and what travel passes it.</p>
      <button type="button" class="quiet" onClick={aimWhy}>
        Choose a spot on the map
      </button>
      <Answer />
    </>
  );
}

/** The same question for a place that was found, put where it is told of. */
export function TakenApart({ at }: { at: Point }) {
  const [x, y] = at;
  const asked = why.asked.value;
  return (
    <Section title="What it costs to walk here">
      {asked?.x === x && asked.y === y ? (
        <Answer />
      ) : (
        <>
          <Asking of={why} what="Taking the spot apart" />
          <button type="button" class="quiet" onClick={() => void why.put({ x, y })}>
            Take the spot apart
          </button>
        </>
      )}
    </Section>
  );
}

function Answer() {
  const answer = why.answer.value;
  const necks = rowsOf('necks', table('necks').value);
  const most = Math.max(...(answer?.parts ?? []).map(({ value }) => value), 0.01);
  // The parts are drawn as bars; their sentences would say them twice.
  const spoken = (answer?.sentences ?? []).filter(
    (line) => !answer?.parts.some(({ label }) => line.startsWith(`${label}:`)),
  );
  return (
    <section class="answer" aria-label="Why here" aria-live="polite">
      <Asking of={why} what="Taking the spot apart" />
      {answer && (
        <>
          {spoken.map((line) => (
            <p key={line} class="para">
              {line}
            </p>
          ))}
          {answer.parts.length > 0 && (
            <ul class="pairs" aria-label="Parts of the cost, the dearest first">
              {answer.parts.map(({ part, label, value }) => (
                <li key={part}>
                  <span>{label}</span>
                  <svg class="pair-bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                    <rect x="0" y="0" height="6" width={(100 * value) / most} />
                  </svg>
                  <span class="pair-share">+{decimal(value, 1)}</span>
                </li>
              ))}
            </ul>
          )}
          <div class="steps">
            {necks
              .filter(({ id }) => answer.necks.includes(id))
              .map((neck) => (
                <button
                  key={neck.id}
                  type="button"
                  class="quiet"
                  onClick={() => flyTo({ type: 'neck', id: neck.id }, [...(neck.line ?? []), neck.at])}
                >
                  Neck {neck.rank}
                </button>
              ))}
            <button type="button" class="quiet" onClick={why.forget}>
              Take off the map
            </button>
          </div>
        </>
      )}
    </section>
  );
}
