import { useEffect } from 'preact/hooks';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { WhatIfAnswer } from '../../../electron/service/contract.ts';
import { rowsOf } from '../../state/rows.ts';
import { run, summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import {
  adopt,
  aimSpot,
  asked,
  closures,
  compare,
  isCompared,
  planKey,
  reach,
  spot,
  whatIf,
} from '../../state/travel-asks.ts';
import { ownerWords } from '../../words/sentences.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { LengthField } from '../LengthField.tsx';
import { Waiting } from '../waiting.tsx';
import { AskedAnswers, Asks } from './Asks.tsx';
import { NeckShares } from './NeckShares.tsx';

/** Travel with the proposals built: before and after, whether each barricade holds, and the next closure. */
export function WhatIf() {
  const proposed = rowsOf('features', table('features').value).filter((row) => row.status === 'proposed');
  const key = planKey.value;
  const scouting = run.value !== null;
  // Once planning has begun, a moved or new proposal is compared at once.
  useEffect(() => {
    if (!scouting && whatIf.asked.peek() !== null && !isCompared()) compare();
  }, [key, scouting]);
  const answer = whatIf.answer.value;
  if (!summary.value!.tables.some((t) => t.name === 'necks'))
    return <Waiting what="Travel to compare with" />;
  return (
    <>
      <p class="facts">
        {proposed.length === 0
          ? 'Nothing is proposed yet. Draw a barricade under Work, or let the program propose a closure here.'
          : `${proposed.length === 1 ? 'One proposal is' : `${proposed.length} proposals are`} drawn. Moving one here or under Work compares anew.`}
      </p>
      <Asks />
      <div class="ask-form">
        <button type="button" class="strong" onClick={compare}>
          Compare before and after
        </button>
        <button type="button" class="quiet" onClick={aimSpot}>
          {spot.value ? 'Watch another spot' : 'Watch a spot'}
        </button>
        <LengthField
          id="spot-reach"
          label="Reach of the spot"
          kind="distance"
          metres={reach.value}
          least={1}
          most={1000}
          set={(metres) => {
            reach.value = metres;
            if (!spot.value) return;
            spot.value = { ...spot.value, reach: metres };
            compare();
          }}
        />
      </div>
      <section class="answer" aria-label="Before and after" aria-live="polite">
        <Asking of={whatIf} what="Solving travel anew" />
        {answer && <Compared answer={answer} />}
      </section>
      <Closures />
    </>
  );
}

function Compared({ answer }: { answer: WhatIfAnswer }) {
  return (
    <>
      <AskedAnswers of={answer} />
      {answer.spot && <p class="para">{answer.spot.sentence}</p>}
      {answer.sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      <OverlayLegend of={answer.overlays.change} />
      <NeckShares
        caption="Share of all travel at each neck"
        necks={answer.necks.map(({ rank, before, after }) => ({ name: String(rank), before, after }))}
      />
      {answer.barricades.map((check) => (
        <Section key={check.feature} title={check.name}>
          <p class={check.holds ? 'para' : 'para unfirm'}>
            <strong>{check.holds ? 'It holds.' : 'It does not hold.'}</strong> {formatShare(check.before)} of
            all travel met its line before, {formatShare(check.after)} gets across it after.
          </p>
          <Lines title="Why, and what to mend" lines={check.sentences} kind="plain" />
        </Section>
      ))}
      <Lines title="What this cannot know" lines={answer.doubts} kind="doubts" />
    </>
  );
}

function Closures() {
  const necks = rowsOf('necks', table('necks').value);
  const answer = closures.answer.value;
  const u = units.value;
  const goal = necks.find(({ id }) => id === answer?.goal);
  return (
    <Section title="The next closure">
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          const chosen = new FormData(event.currentTarget).get('neck');
          void closures.put({
            neck: typeof chosen === 'string' && chosen !== '' ? chosen : null,
            trial: [],
            goals: asked.peek().goals,
          });
        }}
      >
        <label class="length" for="closure-neck">
          <span>Gather travel at</span>
          <select id="closure-neck" name="neck">
            <option value="">the best neck it helps</option>
            {necks.map(({ id, rank }) => (
              <option key={id} value={id}>
                neck {rank}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" class="quiet">
          Propose closures
        </button>
      </form>
      <Asking of={closures} what="Looking for the cheapest closures" />
      {answer && (
        <>
          <p class="para">{answer.sentence}</p>
          <ol class="closures">
            {answer.closures.map((closure, n) => (
              <li key={closure.id}>
                <p class="finding-title">
                  Closure {n + 1}: {formatLength(closure.length, u)}, {ownerWords(closure.owner)}
                </p>
                <p class="finding-text">{[closure.sentence, ...closure.effectSentences].join(' ')}</p>
                <p class="spread-words">
                  {goal ? `Neck ${goal.rank}` : 'The neck'}: {formatShare(closure.neckBefore)} to{' '}
                  {formatShare(closure.neckAfter)}
                </p>
                <button type="button" class="quiet small" onClick={() => adopt(closure)}>
                  Add to the plan<span class="unseen">: closure {n + 1}</span>
                </button>
              </li>
            ))}
          </ol>
        </>
      )}
    </Section>
  );
}
