import { formatLength, formatShare } from '../../../core/features/units.ts';
import { CREEK_STAGES, type CreekStage } from '../../../core/stands/types.ts';
import type { ScentAnswer } from '../../../electron/service/contract.ts';
import { hourScent, spotTurns } from '../../state/air-asks.ts';
import { aimScent, creekStage, release, scentReady, seat, source } from '../../state/air-clock.ts';
import { changeSettings } from '../../state/editing.ts';
import { units } from '../../state/session.ts';
import { stands } from '../../state/stand-list.ts';
import { spell } from '../../words/air.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { LengthField } from '../LengthField.tsx';
import { NamedOptions } from '../options.tsx';
import { Waiting } from '../waiting.tsx';

/** Scent let go at a stand or a spot in the air of the clock's hour, and what it meets. */
export function Scent() {
  const of = source.value;
  const from = release.value;
  const answer = from ? hourScent.answer.value : null;
  return (
    <>
      <div class="ask-form">
        <label class="length" for="scent-from">
          <span>From</span>
          <select
            id="scent-from"
            value={of === null ? '' : 'at' in of ? 'spot' : of.stand}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              if (chosen === '') source.value = null;
              else if (chosen === 'spot') aimScent();
              else source.value = { stand: chosen };
            }}
          >
            <option value="">nobody</option>
            <NamedOptions of={stands.value} />
            <option value="spot">a spot on the map</option>
          </select>
        </label>
        <button type="button" class="quiet" onClick={aimScent}>
          {of && 'at' in of ? 'Another spot' : 'Click a spot'}
        </button>
        {of && 'at' in of && (
          <LengthField
            id="scent-height"
            label="Seat above ground"
            kind="height"
            metres={seat.value}
            least={0}
            most={30}
            set={(height) => {
              seat.value = height;
            }}
          />
        )}
        <CreekField />
      </div>
      <section class="answer" aria-label="Scent at this hour" aria-busy={hourScent.waiting.value}>
        <Asking of={hourScent} what="Following the scent" />
        {from && !scentReady.value && <Waiting what="Scent, which is held against travel and creeks," />}
        {answer && <Carried answer={answer} />}
      </section>
      {from && <SpotTurns />}
    </>
  );
}

const STAGES: Record<CreekStage, string> = {
  dry: 'dry, beds as measured',
  normal: 'normal, mean flow',
  high: 'high, full to the banks',
};

/** How high the creeks stand: water takes from the room below the banks. */
function CreekField() {
  return (
    <label class="length" for="creek-stage">
      <span>Creeks</span>
      <select
        id="creek-stage"
        value={creekStage.value}
        onChange={(event) =>
          void changeSettings({ air: { creekStage: event.currentTarget.value as CreekStage } }, true)
        }
      >
        {CREEK_STAGES.map((stage) => (
          <option key={stage} value={stage}>
            {STAGES[stage]}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The clock times at which air turns where scent is let go. */
function SpotTurns() {
  const answer = spotTurns.answer.value;
  const now = { drains: 'runs down', still: 'stands still', upslope: 'runs up the slope' };
  return (
    <section class="answer" aria-label="When the air turns here">
      <Asking of={spotTurns} what="Looking for the turns of the day" />
      {answer && (
        <>
          <p class="para">{answer.sentence}</p>
          <dl class="measures">
            {answer.turns.map(({ at, to }) => (
              <div key={`${at} ${to}`}>
                <dt>
                  From {at} {answer.zone}
                </dt>
                <dd>it {now[to]}</dd>
              </div>
            ))}
          </dl>
        </>
      )}
    </section>
  );
}

function Carried({ answer }: { answer: ScentAnswer }) {
  const u = units.value;
  const { carry, beyond, travel, bedding, arrivals, creek } = answer;
  const long = (length: number, more: boolean) => `${formatLength(length, u)}${more ? ' or more' : ''}`;
  return (
    <>
      <p class="para verdict" aria-live="polite">
        {answer.verdict}
      </p>
      <OverlayLegend of={answer.overlay} />
      <div class="table-scroll">
        <table>
          <caption>By how keen the nose is</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="unseen">What</span>
              </th>
              <th scope="col">Dull</th>
              <th scope="col">Usual</th>
              <th scope="col">Keen</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">Carries</th>
              {(['low', 'usual', 'high'] as const).map((nose) => (
                <td key={nose}>{long(carry[nose], beyond[nose])}</td>
              ))}
            </tr>
            <tr>
              <th scope="row">Travel touched</th>
              {[travel.low, travel.usual, travel.high].map((share, k) => (
                <td key={k}>{formatShare(share)}</td>
              ))}
            </tr>
          </tbody>
        </table>
      </div>
      <dl class="measures">
        {arrivals
          .filter(({ seconds }) => seconds !== null)
          .map(({ distance, seconds }) => (
            <div key={distance}>
              <dt>Reaches {formatLength(distance, u)} in</dt>
              <dd>{spell(seconds!)}</dd>
            </div>
          ))}
        <div>
          <dt>Bedding it reaches</dt>
          <dd>{bedding.length === 0 ? 'none' : bedding.join(', ')}</dd>
        </div>
        <div>
          <dt>Rises over the banks again</dt>
          <dd>{answer.spill ? 'marked on the map' : 'nowhere'}</dd>
        </div>
        {creek && (
          <div>
            <dt>Below the banks for</dt>
            <dd>{creek.held > 0 ? `${formatLength(creek.held, u)}, ${spell(creek.seconds)}` : 'nowhere'}</dd>
          </div>
        )}
      </dl>
      <Lines title="What the scent rests on" lines={answer.notes} kind="plain" />
    </>
  );
}
