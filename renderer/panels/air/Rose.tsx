import { signal } from '@preact/signals';
import { SECTORS } from '../../../core/air/types.ts';
import { formatShare, formatSpeed } from '../../../core/features/units.ts';
import type { Answer } from '../../../electron/service/contract.ts';
import { rose } from '../../state/air-asks.ts';
import { units } from '../../state/session.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';

type PartTable = NonNullable<Answer<'air.rose'>['parts']>[number];

const shownPart = signal<PartTable['part']>('morning');
const whole = signal(false);
const SIZE = 130;

const ask = () => void rose.put(whole.value ? { season: null } : {});

/** Where the wind comes from, by part of day: petals with their intervals as ticks, and the same numbers in a table. */
export function Rose() {
  const answer = rose.answer.value;
  const part = answer?.parts?.find((each) => each.part === shownPart.value);
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          ask();
        }}
      >
        <label>
          <input
            type="checkbox"
            checked={whole.value}
            onChange={(event) => {
              whole.value = event.currentTarget.checked;
              if (answer) ask();
            }}
          />{' '}
          The whole year, not only 25 October to 15 November
        </label>
        <button type="submit" class="quiet">
          Count the wind
        </button>
      </form>
      <section class="answer" aria-label="The wind" aria-live="polite">
        <Asking of={rose} what="Counting the wind" />
        {answer && <p class="para">{answer.sentence}</p>}
      </section>
      {answer?.parts && (
        <label>
          Part of day{' '}
          <select
            value={shownPart.value}
            onChange={(event) => {
              shownPart.value = event.currentTarget.value as PartTable['part'];
            }}
          >
            {answer.parts.map((each) => (
              <option key={each.part} value={each.part}>
                {each.part}
              </option>
            ))}
          </select>
        </label>
      )}
      {part && <Petals part={part} />}
      {part && <Counts part={part} />}
      {answer && <Lines title="What it rests on" lines={answer.notes} kind="plain" />}
    </>
  );
}

/** Petals point to where the wind comes from; the tick past each is the upper end of its interval. */
function Petals({ part: { part, sectors, total } }: { part: PartTable }) {
  const most = Math.max(0.05, ...sectors.map(({ share }) => (total > 0 ? share.high : 0)));
  const at = (share: number, degrees: number): string => {
    const turn = (degrees * Math.PI) / 180;
    const out = 8 + (share / most) * (SIZE - 30);
    return `${(out * Math.sin(turn)).toFixed(1)} ${(-out * Math.cos(turn)).toFixed(1)}`;
  };
  return (
    <svg
      viewBox={`${-SIZE} ${-SIZE} ${2 * SIZE} ${2 * SIZE}`}
      width="100%"
      role="img"
      aria-label={`Rose of the ${part}; the table below has its numbers`}
    >
      {sectors.map(({ share }, k) => {
        const middle = k * 22.5;
        return (
          <g key={SECTORS[k]}>
            <path
              d={`M${at(0, middle - 8)}L${at(share.share ?? 0, middle - 8)}L${at(share.share ?? 0, middle + 8)}L${at(0, middle + 8)}Z`}
              fill="var(--cold)"
            />
            {total > 0 && (
              <path
                d={`M${at(share.high, middle - 4)}L${at(share.high, middle + 4)}`}
                stroke="var(--ink)"
                stroke-width="1.2"
              />
            )}
          </g>
        );
      })}
      {['N', 'E', 'S', 'W'].map((name, k) => (
        <text
          key={name}
          x={(SIZE - 10) * Math.sin((k * Math.PI) / 2)}
          y={-(SIZE - 10) * Math.cos((k * Math.PI) / 2) + 5}
          text-anchor="middle"
          font-size="14"
          fill="var(--ink)"
        >
          {name}
        </text>
      ))}
    </svg>
  );
}

function Counts({ part: { part, sectors, calms, variable, calmShare, total } }: { part: PartTable }) {
  const percent = (share: number | null) => (share === null ? 'not known' : formatShare(share));
  return (
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
  );
}
