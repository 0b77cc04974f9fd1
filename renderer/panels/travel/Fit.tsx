import { formatShare } from '../../../core/features/units.ts';
import type { Answer } from '../../../electron/service/contract.ts';
import { noteBefore } from '../../state/moved.ts';
import { notice, startScout, summary, tell } from '../../state/session.ts';
import { fit } from '../../state/travel-asks.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';

/** One edit, which undo takes back; the necks are found again under the weights taken over. */
async function take(name: string): Promise<void> {
  noteBefore();
  const answer = await tell('travel.takeFit', {});
  if (!answer) return;
  summary.value = answer;
  notice.value = `“${name}” is the assumption set now. Undo brings the former one back.`;
  await startScout();
}

/** Weights fitted to the sightings: offered by name, never applied by themselves. */
export function Fit() {
  const answer = fit.answer.value;
  return (
    <>
      <p class="facts">
        The assumptions can be fitted to sightings. Part of the ground is held out each time, so that a fit is
        offered only when it foretells what it was not made from.
      </p>
      <button type="button" class="quiet" onClick={() => fit.put({})}>
        Fit the weights to the sightings
      </button>
      <section class="answer" aria-label="Weights fitted to sightings" aria-live="polite">
        <Asking of={fit} what="Solving travel under other weights" />
        {answer && <Fitted answer={answer} />}
      </section>
    </>
  );
}

function Fitted({ answer }: { answer: Answer<'travel.fit'> }) {
  const { inForce, fitted, changes, name } = answer;
  return (
    <>
      <p class={name ? 'para' : 'para unfirm'}>{answer.sentence}</p>
      {inForce && <Scores inForce={inForce} fitted={fitted} offered={name !== null} />}
      {name && (
        <>
          <table class="fit-changes">
            <caption>What “{name}” would change</caption>
            <thead>
              <tr>
                <th scope="col">Assumption</th>
                <th scope="col" class="right">
                  In force
                </th>
                <th scope="col" class="right">
                  Fitted
                </th>
              </tr>
            </thead>
            <tbody>
              {changes.map(({ key, label, unit, from, to }) => (
                <tr key={key}>
                  <th scope="row">
                    {label} <span class="spread-words">({unit})</span>
                  </th>
                  <td class="right">{from}</td>
                  <td class="right">
                    {to > from ? '▲ ' : '▼ '}
                    {to}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <Lines title="What this cannot know" lines={answer.doubts} kind="doubts" />
          <button type="button" class="strong" onClick={() => void take(name)}>
            Use these weights
          </button>
        </>
      )}
    </>
  );
}

function Scores({
  inForce,
  fitted,
  offered,
}: Pick<Answer<'travel.fit'>, 'fitted'> & {
  inForce: NonNullable<Answer<'travel.fit'>['inForce']>;
  offered: boolean;
}) {
  const shown = offered ? fitted : null;
  return (
    <table class="fit-scores">
      <caption>How passage foretells all the sightings</caption>
      <thead>
        <tr>
          <td />
          <th scope="col" class="right">
            Luck
          </th>
          <th scope="col" class="right">
            In force
          </th>
          {shown && (
            <th scope="col" class="right">
              Fitted
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">Area under the curve</th>
          <td class="right">0.50</td>
          <td class="right">{inForce.areaUnderCurve.toFixed(2)}</td>
          {shown && <td class="right">{shown.areaUnderCurve.toFixed(2)}</td>}
        </tr>
        <tr>
          <th scope="row">In the top tenth of passage</th>
          <td class="right">10%</td>
          <td class="right">{formatShare(inForce.inTopTenth)}</td>
          {shown && <td class="right">{formatShare(shown.inTopTenth)}</td>}
        </tr>
      </tbody>
    </table>
  );
}
