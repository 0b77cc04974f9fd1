import { formatLength, formatShare } from '../../../core/features/units.ts';
import { type ApproachWay, WALK_TIMES, type WalkTime } from '../../../core/stands/types.ts';
import type { StandApproachAnswer } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';
import {
  approach,
  askWays,
  overNeighbour,
  seatAt,
  standsReady,
  walkMode,
  walkTime,
  walkWind,
} from '../../state/stands-asks.ts';
import { flyTo } from '../../state/view.ts';
import { WALK_WORDS, WAY_WORDS } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { SectorOptions } from '../options.tsx';
import { StandRules } from './StandRules.tsx';

/** Two or three ways to the stand, with what each costs and what is wrong with it. */
export function WaysIn() {
  const answer = approach.answer.value;
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          askWays();
        }}
      >
        <label class="length" for="walk-time">
          <span>When</span>
          <select
            id="walk-time"
            value={walkTime.value}
            onChange={(event) => {
              walkTime.value = event.currentTarget.value as WalkTime;
            }}
          >
            {WALK_TIMES.map((time) => (
              <option key={time} value={time}>
                {WALK_WORDS[time]}
              </option>
            ))}
          </select>
        </label>
        <label class="length" for="walk-wind">
          <span>Wind</span>
          <select
            id="walk-wind"
            value={walkWind.value ?? 'calm'}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              walkWind.value = chosen === 'calm' ? null : Number(chosen);
            }}
          >
            <option value="calm">calm</option>
            <SectorOptions />
          </select>
        </label>
        <label class="length" for="walk-mode">
          <span>How</span>
          <select
            id="walk-mode"
            value={walkMode.value}
            onChange={(event) => {
              walkMode.value = event.currentTarget.value === 'vehicle' ? 'vehicle' : 'foot';
            }}
          >
            <option value="foot">on foot</option>
            <option value="vehicle">driven as far as may be</option>
          </select>
        </label>
        <label>
          <input
            type="checkbox"
            checked={overNeighbour.value}
            onChange={(event) => {
              overNeighbour.value = event.currentTarget.checked;
            }}
          />{' '}
          Over the neighbour’s ground, if allowed
        </label>
        <button type="submit" class="quiet" disabled={!standsReady.value || !seatAt.value}>
          Find ways in
        </button>
      </form>
      <section class="answer" aria-label="Ways in" aria-live="polite">
        <Asking of={approach} what="Looking for ways in" />
        {answer && <Found answer={answer} />}
      </section>
      <StandRules />
    </>
  );
}

function Found({ answer: { approach: found, overlay } }: { answer: StandApproachAnswer }) {
  return (
    <>
      <p class={found.clean ? 'para' : 'para unfirm'}>{found.verdict}</p>
      <p class="facts">
        Judged for {WALK_WORDS[found.time]}, {found.wind}.
      </p>
      <OverlayLegend of={overlay} />
      {found.ways.length > 0 && <Costs ways={found.ways} />}
      {found.ways.map((way) => (
        <Way key={way.id} way={way} />
      ))}
      {found.ifAllowed && (
        <Section title="If the neighbour allowed it">
          <Way way={found.ifAllowed} />
        </Section>
      )}
      <Lines title="What this cannot know" lines={found.doubts} kind="doubts" />
    </>
  );
}

const minutes = (value: number): string =>
  value < 0.05 ? '0' : value < 9.95 ? value.toFixed(1) : value.toFixed(0);

function Costs({ ways }: { ways: readonly ApproachWay[] }) {
  const rows: [string, (way: ApproachWay) => string][] = [
    ['Minutes in all', ({ minutes: all }) => minutes(all)],
    ['In view of bedding', ({ seenByBedding }) => minutes(seenByBedding)],
    ['In view of travel', ({ seenByTravel }) => minutes(seenByTravel)],
    ['Scent onto deer', ({ scent }) => minutes(scent)],
    ['Noise that carries', ({ noise }) => minutes(noise)],
    ['Travel walked across', ({ crossesTravel }) => formatShare(crossesTravel)],
  ];
  return (
    <div class="table-scroll">
      <table>
        <caption>Minutes each way costs</caption>
        <thead>
          <tr>
            <th scope="col">
              <span class="unseen">Cost</span>
            </th>
            {ways.map(({ id, kind }) => (
              <th key={id} scope="col" class="right">
                {WAY_WORDS[kind].replace(' way', '')}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([label, value]) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              {ways.map((way) => (
                <td key={way.id} class="right">
                  {value(way)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Way({ way }: { way: ApproachWay }) {
  const u = units.value;
  const facts = [
    `${formatLength(way.length, u)} from ${way.start}`,
    ...(way.driven > 0 ? [`${formatLength(way.driven, u)} of it driven`] : []),
    `${formatLength(way.climb, u, 'height')} of climb`,
    ...(way.acrossNeighbour > 0 ? [`${formatLength(way.acrossNeighbour, u)} over a neighbour’s ground`] : []),
    ...way.crossings.map(({ kind, name }) => `crosses ${name || kind}`),
  ];
  return (
    <div class="way">
      <p class="finding-title">
        {WAY_WORDS[way.kind]}: {way.clean ? 'nothing found against it' : faultWords(way)}
      </p>
      <p class="finding-text">{facts.join(', ')}.</p>
      {way.faults.length > 0 && (
        <ul>
          {way.faults.map(({ grave, sentence }) => (
            <li key={sentence} class="fault">
              <span aria-hidden="true">{grave ? '!!' : '!'}</span> {sentence}
            </li>
          ))}
        </ul>
      )}
      <button type="button" class="quiet small" onClick={() => flyTo(null, way.path, 200)}>
        Show on the map<span class="unseen">: {WAY_WORDS[way.kind]}</span>
      </button>
    </div>
  );
}

function faultWords({ faults }: ApproachWay): string {
  const grave = faults.filter((fault) => fault.grave).length;
  const rest = faults.length - grave;
  const count = (n: number, what: string) => (n === 0 ? [] : [`${n} ${what}${n === 1 ? '' : 's'}`]);
  return [...count(grave, 'grave fault'), ...count(rest, 'fault')].join(', ');
}
