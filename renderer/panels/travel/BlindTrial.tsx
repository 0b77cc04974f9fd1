import { formatLength, formatShare } from '../../../core/features/units.ts';
import { aim } from '../../state/aiming.ts';
import {
  aimMark,
  beginTrial,
  blindReach,
  blindTrial,
  endTrial,
  marks,
  necksWereShown,
  reveal,
  takeMarkOff,
  wasSeen,
} from '../../state/blind-trial.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { coordinateStyle, flyTo } from '../../state/view.ts';
import { geographer, placeText } from '../../words/coordinates.ts';
import { Asking } from '../Asking.tsx';
import { Section } from '../Finding.tsx';
import { LengthField } from '../LengthField.tsx';

/** The offer of a trial, and what the last one found. */
export function BlindTrialOffer() {
  return (
    <Section title="Against what you know">
      <p class="facts">
        Somebody who knows the ground marks where deer cross; the necks stay hidden until then.
        {necksWereShown() && ' You have had the necks on the screen: let it be somebody who has not.'}
      </p>
      <button type="button" class="quiet" onClick={beginTrial}>
        {blindTrial.answer.value ? 'Try again' : 'Hide the necks and mark crossings'}
      </button>
      <BlindFound />
    </Section>
  );
}

function BlindFound() {
  const answer = blindTrial.answer.value;
  const asked = blindTrial.asked.value;
  if (!answer || !asked) return null;
  const necks = rowsOf('necks', table('necks').value);
  return (
    <section class="answer" aria-label="What the trial found" aria-live="polite">
      <p class="para">{answer.sentence}</p>
      {wasSeen.value && (
        <p class="para unfirm">The necks had been on the screen before, so this was not a blind trial.</p>
      )}
      <dl class="measures">
        <div>
          <dt>Marks with a neck near</dt>
          <dd>
            {answer.found} of {answer.marks.length}
          </dd>
        </div>
        <div>
          <dt>Necks found</dt>
          <dd>
            {answer.necksFound} of {necks.length}
          </dd>
        </div>
        <div>
          <dt>One mark at random finds one</dt>
          <dd>{formatShare(answer.chance)}</dd>
        </div>
        <div>
          <dt>So many or more by luck</dt>
          <dd>{formatShare(answer.byLuck)}</dd>
        </div>
      </dl>
      <ol class="marks">
        {answer.marks.map(({ neck, distance }, n) => {
          const row = necks.find(({ id }) => id === neck);
          return (
            <li key={n}>
              <span>Mark {n + 1}</span>
              {row && distance !== null ? (
                <button
                  type="button"
                  class="quiet small"
                  onClick={() => flyTo({ type: 'neck', id: row.id }, [...(row.line ?? []), row.at])}
                >
                  Neck {row.rank}, {formatLength(distance, units.value)} off
                </button>
              ) : (
                <span class="spread-words">no neck within {formatLength(asked.reach, units.value)}</span>
              )}
            </li>
          );
        })}
      </ol>
      <p class="facts">Marks that crowd together tell less than this luck reckons.</p>
      <button type="button" class="quiet" onClick={blindTrial.forget}>
        Take the marks off the map
      </button>
    </section>
  );
}

/** The page while the necks are hidden: the marks so far, and the way out. */
export function BlindTrial() {
  const set = marks.value ?? [];
  const { frame, tables } = summary.value!;
  const geo = geographer(frame);
  const known = tables.some((t) => t.name === 'necks');
  return (
    <>
      <h3 class="trial-head">Mark where deer cross</h3>
      <p class="facts">
        Necks, corridors, crossings and passage are hidden until you reveal them. Mark only what you have
        seen: tracks, trails, deer on a camera.
      </p>
      {!aim.value && (
        <button type="button" class="quiet" onClick={aimMark}>
          Go on marking
        </button>
      )}
      <ol class="marks" aria-label="Marks so far">
        {set.map((at, n) => (
          <li key={n}>
            <span>
              Mark {n + 1}:{' '}
              <span class="spread-words">{placeText(coordinateStyle.value, geo.toGeographic(...at))}</span>
            </span>
            <button type="button" class="quiet small" onClick={() => takeMarkOff(n)}>
              Take off<span class="unseen"> mark {n + 1}</span>
            </button>
          </li>
        ))}
      </ol>
      {set.length === 0 && <p class="empty">No mark yet. With the map in focus, Space marks the cross.</p>}
      <div class="ask-form">
        <LengthField
          id="blind-reach"
          label="A mark finds a neck within"
          kind="distance"
          metres={blindReach.value}
          least={1}
          most={500}
          set={(metres) => {
            blindReach.value = metres;
          }}
        />
      </div>
      <div class="steps">
        <button type="button" class="strong" disabled={set.length === 0 || !known} onClick={reveal}>
          Reveal the necks
        </button>
        <button type="button" class="quiet" onClick={endTrial}>
          Give the trial up
        </button>
      </div>
      {!known && (
        <p class="facts">The scout has not found the necks yet; they can be revealed once it has.</p>
      )}
      <Asking of={blindTrial} what="Comparing the marks with the necks" />
    </>
  );
}

/** What a page says that would give the necks away. */
export const HiddenForTrial = () => (
  <p class="empty">
    A blind trial is under way. This page speaks of necks, so it stays shut until they are revealed under
    Travel.
  </p>
);
