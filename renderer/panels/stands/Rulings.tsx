import { formatShare } from '../../../core/features/units.ts';
import type { StandRuling, TriedChange } from '../../../electron/service/contract.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { rulings } from '../../state/stands-search.ts';
import { flyTo } from '../../state/view.ts';
import { RULING_WORDS, WORST_WORDS } from '../../words/stands-search.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { gainWords, hoursOrUnknown } from './shares.ts';

/** What to do with each stand that is there. */
export function Rulings() {
  const answer = rulings.answer.value;
  return (
    <>
      <p class="facts">
        Each stand that is there: keep it, screen it, come in another way, move it or give it up, with the
        smallest change that mends its worst fault. Takes a minute or so.
      </p>
      <div class="ask-form">
        <button
          type="button"
          class="quiet"
          disabled={!standsReady.value}
          onClick={() => void rulings.put({})}
        >
          Rule on each stand
        </button>
      </div>
      <section class="answer" aria-label="Rulings" aria-live="polite">
        <Asking of={rulings} what="Trying changes to each stand" />
        {answer?.rulings.map((ruling) => (
          <One key={ruling.stand.id} ruling={ruling} />
        ))}
        {answer && <Lines title="What it rests on" lines={answer.notes} kind="plain" />}
      </section>
    </>
  );
}

function One({ ruling }: { ruling: StandRuling }) {
  const { stand, hours, byWind, worth, worst, change, tried, doubts } = ruling;
  const { sign, says } = RULING_WORDS[ruling.ruling];
  const there = change?.lines.flat() ?? [];
  return (
    <section class="ruling" aria-label={stand.name}>
      <h3>
        <span class="ruling-sign" aria-hidden="true">
          {sign}
        </span>
        {stand.name}: {says}
      </h3>
      <p class="para">{ruling.sentence}</p>
      <dl class="measures">
        <div>
          <dt>Usable hours a week</dt>
          <dd>
            {hoursOrUnknown(hours)}
            {change && change.gained > 0 ? `, then ${hoursOrUnknown(change.hours)}` : ''}
          </dd>
        </div>
        <div>
          <dt>Hours its wind allows</dt>
          <dd>{hoursOrUnknown(byWind)}</dd>
        </div>
        <div>
          <dt>Travel met clean over all light</dt>
          <dd>
            {formatShare(worth)}
            {change ? `, then ${formatShare(change.worth)}` : ''}
          </dd>
        </div>
      </dl>
      {worst && (
        <p class="facts">
          Worst fault: {WORST_WORDS[worst.fault]}
          {worst.hours > 0 ? `, ${hoursOrUnknown(worst.hours)} a week` : ''}. {worst.sentence}
        </p>
      )}
      {tried.length > 0 && (
        <details class="methods">
          <summary>
            What was tried<span class="unseen"> for {stand.name}</span>
          </summary>
          <div class="table-scroll">
            <Tried tried={tried} />
          </div>
        </details>
      )}
      <Lines title="Doubts" lines={doubts} kind="doubts" />
      <button type="button" class="quiet small" onClick={() => flyTo(null, [stand.at, ...there], 300)}>
        Show on the map<span class="unseen">: {stand.name}</span>
      </button>
    </section>
  );
}

function Tried({ tried }: { tried: readonly TriedChange[] }) {
  return (
    <table>
      <caption class="unseen">Changes tried, the smallest first</caption>
      <thead>
        <tr>
          <th scope="col">Change</th>
          <th scope="col" class="right">
            Hours
          </th>
          <th scope="col" class="right">
            Gained
          </th>
          <th scope="col" class="right">
            Met clean
          </th>
        </tr>
      </thead>
      <tbody>
        {tried.map(({ what, hours, gained, worth }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td class="right">{hoursOrUnknown(hours)}</td>
            <td class="right">{gainWords(gained)}</td>
            <td class="right">{formatShare(worth)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
