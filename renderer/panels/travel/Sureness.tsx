import { signal } from '@preact/signals';
import { formatShare } from '../../../core/features/units.ts';
import { summary } from '../../state/session.ts';
import { sightings, uncertainty } from '../../state/travel-asks.ts';
import { firmWords } from '../../words/sentences.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section, SpreadBar, spreadLabel } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';
import { BlindTrialOffer } from './BlindTrial.tsx';
import { Fit } from './Fit.tsx';

const runs = signal(200);

/** How far each neck can be trusted: many runs over the uncertain weights, and deer that were seen. */
export function Sureness() {
  if (!summary.value!.tables.some((t) => t.name === 'necks')) return <Waiting what="Necks to be tried" />;
  const answer = uncertainty.answer.value;
  const most = Math.max(
    ...(answer?.necks ?? []).map(({ share, spread }) => Math.max(share, spread.high)),
    0.01,
  );
  return (
    <>
      <Section title="Runs over the assumptions">
        <p class="facts">
          Each band in the list of necks is from the scout’s own runs, counted beside it. More runs tell its
          ends better.
        </p>
        <form
          class="ask-form"
          onSubmit={(event) => {
            event.preventDefault();
            void uncertainty.put({ runs: runs.value });
          }}
        >
          <label class="length" for="runs">
            <span>Runs</span>
            <input
              id="runs"
              type="number"
              min="1"
              max="500"
              step="1"
              required
              value={runs.value}
              onChange={(event) => {
                const typed = event.currentTarget.valueAsNumber;
                if (Number.isInteger(typed) && typed >= 1 && typed <= 500) runs.value = typed;
                else event.currentTarget.value = String(runs.value);
              }}
            />
          </label>
          <button type="submit" class="quiet">
            Try the necks
          </button>
        </form>
        <section class="answer" aria-label="Runs over the assumptions" aria-live="polite">
          <Asking of={uncertainty} what="Running the assumptions through" />
          {answer && <p class="para">{answer.sentence}</p>}
        </section>
        {answer?.necks.map((neck) => (
          <Section key={neck.id} title={`Neck ${neck.rank}`}>
            <span class="spread-row">
              <SpreadBar share={neck.share} spread={neck.spread} most={most} />
              <span class="spread-words">{spreadLabel(neck.share, neck.spread)}</span>
            </span>
            <p class={neck.firm ? 'para' : 'para unfirm'}>{firmWords(neck.firm)}</p>
            <Lines title="What moves it" lines={neck.reasons} kind="plain" />
          </Section>
        ))}
      </Section>
      <Seen />
      <BlindTrialOffer />
    </>
  );
}

function Seen() {
  const answer = sightings.answer.value;
  return (
    <Section title="Against deer that were seen">
      <button type="button" class="quiet" onClick={() => sightings.put({})}>
        Compare with sightings
      </button>
      <section class="answer" aria-label="Against sightings" aria-live="polite">
        <Asking of={sightings} what="Comparing with sightings" />
        {answer && (
          <>
            <p class="para">{answer.verdict}</p>
            {answer.areaUnderCurve !== null && (
              <dl class="measures">
                <div>
                  <dt>Sightings</dt>
                  <dd>{answer.seen}</dd>
                </div>
                <div>
                  <dt>Area under the curve (luck is 0.5)</dt>
                  <dd>{answer.areaUnderCurve.toFixed(2)}</dd>
                </div>
                {answer.inTopTenth !== null && (
                  <div>
                    <dt>In the top tenth of passage</dt>
                    <dd>{formatShare(answer.inTopTenth)}</dd>
                  </div>
                )}
                {answer.byLuck !== null && (
                  <div>
                    <dt>How likely by luck</dt>
                    <dd>{formatShare(answer.byLuck)}</dd>
                  </div>
                )}
              </dl>
            )}
          </>
        )}
      </section>
      <Fit />
    </Section>
  );
}
