import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { SECTORS } from '../../../core/air/types.ts';
import { formatShare, formatSpeed } from '../../../core/features/units.ts';
import { rose, windKey } from '../../state/air-asks.ts';
import { units } from '../../state/session.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { type PartTable, RosePetals } from './RosePetals.tsx';
import { countWind, SeasonForm } from './SeasonForm.tsx';
import { WindFiles } from './WindFiles.tsx';

const shownPart = signal('morning');

/** Where the wind comes from, by season and part of day: petals with their intervals, and the same numbers in a table. */
export function Rose() {
  useEffect(() => {
    if (!rose.asked.peek() && rose.progress.peek() === null) countWind();
  }, [windKey.value]);
  const answer = rose.answer.value;
  const tables: PartTable[] = [...(answer?.parts ?? []), ...(answer?.together ?? [])];
  const part = tables.find((each) => each.part === shownPart.value) ?? tables[0];
  return (
    <>
      <SeasonForm />
      <section class="answer" aria-label="The wind" aria-live="polite">
        <Asking of={rose} what="Counting the wind" />
        {answer && <p class="para">{answer.sentence}</p>}
      </section>
      {part && (
        <label class="length" for="rose-part">
          <span>Part of day</span>
          <select
            id="rose-part"
            value={part.part}
            onChange={(event) => {
              shownPart.value = event.currentTarget.value;
            }}
          >
            {tables.map((each) => (
              <option key={each.part} value={each.part}>
                {each.part}
              </option>
            ))}
          </select>
        </label>
      )}
      {part && <RosePetals part={part} />}
      {part && <Gusts part={part} />}
      {part && <Counts part={part} />}
      {answer && <Lines title="What was kept, and what it rests on" lines={answer.notes} kind="plain" />}
      <WindFiles />
    </>
  );
}

const CLASSES = ['A', 'B', 'C', 'D', 'E', 'F'];

/** How steady the wind is, and how its hours mix scent by the sun, the cloud of the record and the wind of each. */
function Gusts({ part: { gustiness, unsteadiness, stability, total } }: { part: PartTable }) {
  const drains = stability['calm drainage'] ?? 0;
  const mixes = CLASSES.filter((kind) => stability[kind]).map(
    (kind) => `${kind} ${formatShare(stability[kind]! / total)}`,
  );
  return (
    <dl class="measures">
      <div>
        <dt>Speed varies by</dt>
        <dd>{unsteadiness === null ? 'not known' : `${formatShare(unsteadiness)} of its mean`}</dd>
      </div>
      <div>
        <dt>Gusts reach</dt>
        <dd>
          {gustiness === null ? 'not told by the record' : `${gustiness.toFixed(1)} times the hour’s speed`}
        </dd>
      </div>
      <div>
        <dt>Stability, A mixes most</dt>
        <dd>{mixes.length === 0 ? 'not known' : mixes.join(', ')}</dd>
      </div>
      <div>
        <dt>Calm enough to drain</dt>
        <dd>{total === 0 ? 'not known' : `${formatShare(drains / total)} of hours`}</dd>
      </div>
    </dl>
  );
}

function Counts({ part: { part, sectors, calms, variable, calmShare, total } }: { part: PartTable }) {
  const percent = (share: number | null) => (share === null ? 'not known' : formatShare(share));
  return (
    <div class="table-scroll">
      <table>
        <caption>
          Wind of the {part}, {total} hours
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">Share</th>
            <th scope="col">Interval</th>
            <th scope="col">Mean speed</th>
          </tr>
        </thead>
        <tbody>
          {sectors.map(({ share, speed }, k) => (
            <tr key={SECTORS[k]}>
              <th scope="row">{SECTORS[k]}</th>
              <td>{percent(share.share)}</td>
              <td>
                {formatShare(share.low)} to {formatShare(share.high)}
              </td>
              <td>{speed === null ? 'none' : formatSpeed(speed, units.value)}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">Calm</th>
            <td>{percent(calmShare.share)}</td>
            <td>
              {formatShare(calmShare.low)} to {formatShare(calmShare.high)}
            </td>
            <td>{calms} hours</td>
          </tr>
          <tr>
            <th scope="row">Variable</th>
            <td>{total > 0 ? formatShare(variable / total) : 'not known'}</td>
            <td>not counted</td>
            <td>{variable} hours</td>
          </tr>
        </tbody>
      </table>
    </div>
  );
}
