import { formatLength } from '../../../core/features/units.ts';
import type { LineOfFire, Sector, SectorRun } from '../../../core/stands/types.ts';
import { units } from '../../state/session.ts';
import { SECTOR_ORDER, SECTOR_WORDS, spanWords } from '../../words/stands.ts';
import { Lines, Section } from '../Finding.tsx';

const SIZE = 62;
const RADIUS = 46;

/** What lies behind a deer, direction by direction: checked, never safe. */
export function Fire({ fire }: { fire: LineOfFire }) {
  const sectors = fire.runs.toSorted(
    (a, b) => SECTOR_ORDER.indexOf(a.state) - SECTOR_ORDER.indexOf(b.state) || a.from - b.from,
  );
  const pressing = sectors.filter(({ state }) => state !== 'checked');
  const checked = sectors.filter(({ state }) => state === 'checked');
  return (
    <Section title="Behind a deer">
      <p class="caution-line">
        Checked, never safe. This looks at what is mapped; the person behind the gun looks at what is there,
        every time.
      </p>
      <div class="fire">
        <Ring sectors={fire.sectors} />
        <ul class="fire-shares">
          {SECTOR_ORDER.filter((state) => fire.degrees[state] > 0).map((state) => (
            <li key={state}>
              <span class={`sector-sign ${state}`} aria-hidden="true">
                {SECTOR_WORDS[state].sign}
              </span>
              {SECTOR_WORDS[state].says}: {Math.round(fire.degrees[state])}°
            </li>
          ))}
        </ul>
      </div>
      <ul class="sectors" aria-label="Sectors that are not checked">
        {pressing.map((sector) => (
          <SectorRow key={sector.from} sector={sector} />
        ))}
      </ul>
      {checked.length > 0 && (
        <details class="methods">
          <summary>Sectors with ground behind</summary>
          <ul class="sectors">
            {checked.map((sector) => (
              <SectorRow key={sector.from} sector={sector} />
            ))}
          </ul>
        </details>
      )}
      <Lines title="What was looked for, and what was not" lines={fire.looked} kind="plain" />
      <Lines title="Cautions" lines={fire.cautions} kind="caution" />
    </Section>
  );
}

function SectorRow({ sector }: { sector: SectorRun }) {
  const { sign, says } = SECTOR_WORDS[sector.state];
  return (
    <li>
      <p class="finding-title">
        <span class={`sector-sign ${sector.state}`} aria-hidden="true">
          {sign}
        </span>
        {spanWords(sector.from, sector.to)}: {says}
      </p>
      {sector.reasons.map((reason) => (
        <p key={reason} class="finding-text">
          {reason}
        </p>
      ))}
      {sector.stops !== null && (
        <p class="unit">
          Ground stops it within {formatLength(sector.stops, units.value)} beyond the deer
          {sector.meets === null ? '' : `, met at ${sector.meets.toFixed(0)}° or steeper`}.
        </p>
      )}
    </li>
  );
}

/** The circle of sectors, north up; each state has its own stroke besides its colour. */
function Ring({ sectors }: { sectors: readonly Sector[] }) {
  const at = (bearing: number, radius: number) => {
    const turn = (bearing * Math.PI) / 180;
    return `${(radius * Math.sin(turn)).toFixed(2)} ${(-radius * Math.cos(turn)).toFixed(2)}`;
  };
  return (
    <svg class="fire-ring" viewBox={`${-SIZE} ${-SIZE} ${2 * SIZE} ${2 * SIZE}`} aria-hidden="true">
      {sectors.map(({ from, to, state }) => {
        // A whole turn has no arc of its own.
        const end = to - from >= 360 ? from + 359.9 : to;
        const large = end - from > 180 ? 1 : 0;
        return (
          <path
            key={from}
            class={`fire-arc ${state}`}
            d={`M${at(from + 0.7, RADIUS)}A${RADIUS} ${RADIUS} 0 ${large} 1 ${at(end - 0.7, RADIUS)}`}
          />
        );
      })}
      <circle r="4" class="fire-seat" />
      <text y={-SIZE + 10} text-anchor="middle">
        N
      </text>
    </svg>
  );
}
