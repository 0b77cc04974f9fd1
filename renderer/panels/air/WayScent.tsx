import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { WayScentAnswer } from '../../../electron/service/contract.ts';
import { wayScent } from '../../state/air-asks.ts';
import { units } from '../../state/session.ts';
import { flyTo } from '../../state/view.ts';
import { aimWay, askWay, backwards, chooseWay, pace, walked, wayIsNow, ways } from '../../state/way-scent.ts';
import { clockWords, STATE_WORDS, spell, windWords } from '../../words/air.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { NamedOptions } from '../options.tsx';

const PACES = [
  { pace: 0.5, says: 'slowly, stopping' },
  { pace: 1, says: 'with care' },
  { pace: 1.4, says: 'briskly' },
];

/** What the scent of somebody who walks a way touches, minute by minute, in the air of the clock's hour. */
export function WayScent() {
  const of = walked.value;
  const answer = wayScent.answer.value;
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          askWay();
        }}
      >
        <label class="length" for="walked-way">
          <span>Way</span>
          <select
            id="walked-way"
            value={of?.id ?? ''}
            disabled={ways.value.length === 0}
            onChange={(event) => chooseWay(event.currentTarget.value)}
          >
            {ways.value.length === 0 && <option value="">none is drawn</option>}
            <NamedOptions of={ways.value} />
          </select>
        </label>
        <label class="length" for="walked-from">
          <span>Walked</span>
          <select
            id="walked-from"
            value={backwards.value ? 'back' : 'there'}
            onChange={(event) => {
              backwards.value = event.currentTarget.value === 'back';
            }}
          >
            <option value="there">as it is drawn</option>
            <option value="back">the other way</option>
          </select>
        </label>
        <label class="length" for="walked-pace">
          <span>How</span>
          <select
            id="walked-pace"
            value={pace.value}
            onChange={(event) => {
              pace.value = Number(event.currentTarget.value);
            }}
          >
            {PACES.map(({ pace: of, says }) => (
              <option key={of} value={of}>
                {says}, {formatLength(of * 60, units.value)} a minute
              </option>
            ))}
          </select>
        </label>
        <button type="submit" class="quiet" disabled={!of}>
          Follow the walker
        </button>
        <button type="button" class="quiet" onClick={aimWay}>
          Click a way
        </button>
      </form>
      <section class="answer" aria-label="Scent of a way walked" aria-live="polite">
        <Asking of={wayScent} what="Following the walker" />
        {answer && <Dragged answer={answer} />}
      </section>
    </>
  );
}

function Dragged({ answer }: { answer: WayScentAnswer }) {
  const { travel, stretches } = answer;
  const asked = wayScent.asked.value;
  const meets = stretches.filter(({ bedding, travel: share }) => bedding.length > 0 || share > 0);
  const u = units.value;
  return (
    <>
      <p class="para verdict">{answer.verdict}</p>
      {asked && (
        <p class={wayIsNow.value ? 'facts' : 'facts unfirm'}>
          At {clockWords(asked.hour)}, {windWords(asked.windFrom, asked.windSpeed, u)}:{' '}
          {STATE_WORDS[answer.state]}.
          {wayIsNow.value ? '' : ' The clock has moved since: follow the walker again.'}
        </p>
      )}
      <OverlayLegend of={answer.overlay} />
      <dl class="measures">
        <div>
          <dt>Travel touched</dt>
          <dd>
            {formatShare(travel.usual)}
            {formatShare(travel.low) !== formatShare(travel.high) && (
              <>
                {' '}
                (dull nose {formatShare(travel.low)}, keen {formatShare(travel.high)})
              </>
            )}
          </dd>
        </div>
        <div>
          <dt>Bedding it reaches</dt>
          <dd>{answer.bedding.length === 0 ? 'none' : answer.bedding.join(', ')}</dd>
        </div>
      </dl>
      {meets.length === 0 ? (
        <p class="empty">No minute of the walk sends scent to bedding or a trail, for the usual nose.</p>
      ) : (
        <div class="table-scroll">
          <table>
            <caption>
              Minutes whose scent meets deer, {meets.length} of {stretches.length}; a heavy line on the map
            </caption>
            <thead>
              <tr>
                <th scope="col">Walked</th>
                <th scope="col" class="right">
                  Travel
                </th>
                <th scope="col">Bedding</th>
              </tr>
            </thead>
            <tbody>
              {meets.map(({ from, bedding, travel: share, path }) => (
                <tr key={from}>
                  <th scope="row">
                    <button type="button" class="quiet small" onClick={() => flyTo(null, path, 200)}>
                      after {spell((from / answer.length) * answer.minutes * 60)}
                    </button>
                  </th>
                  <td class="right">{formatShare(share)}</td>
                  <td>{bedding.length === 0 ? 'none' : bedding.join(', ')}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <Lines title="What this cannot know" lines={answer.doubts} kind="doubts" />
      <Lines title="What it rests on" lines={answer.notes} kind="plain" />
    </>
  );
}
