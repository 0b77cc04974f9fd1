import { SECTORS } from '../../../core/air/types.ts';
import { formatShare } from '../../../core/features/units.ts';
import type { Answer } from '../../../electron/service/contract.ts';

export type PartTable = Answer<'air.rose'>['together'][number];

const SIZE = 132;
const RIM = 112;
/** Radius of the calm in the middle. */
const HEART = 22;

/** The next rounder share above the longest petal. */
const topOf = (most: number): number => [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5].find((top) => top >= most) ?? 1;

/**
 * Petals lie on the side the wind comes from; the whisker over each runs from the low to the high end of its share.
 * The calm stands in the middle.
 */
export function RosePetals({ part: { part, sectors, total, calmShare } }: { part: PartTable }) {
  const top = topOf(Math.max(0, ...sectors.map(({ share }) => (total > 0 ? share.high : 0))));
  const out = (share: number) => HEART + (Math.min(share, top) / top) * (RIM - HEART);
  const at = (radius: number, degrees: number): string => {
    const turn = (degrees * Math.PI) / 180;
    return `${(radius * Math.sin(turn)).toFixed(1)} ${(-radius * Math.cos(turn)).toFixed(1)}`;
  };
  return (
    <svg
      class="rose"
      viewBox={`${-SIZE} ${-SIZE} ${2 * SIZE} ${2 * SIZE}`}
      role="img"
      aria-label={`Rose of the ${part}; the table below has its numbers`}
    >
      {[top / 2, top].map((share) => (
        <g key={share}>
          <circle class="rose-ring" r={out(share)} />
          <text class="rose-scale" x={out(share) * Math.SQRT1_2 + 2} y={-out(share) * Math.SQRT1_2 - 2}>
            {formatShare(share)}
          </text>
        </g>
      ))}
      {total > 0 &&
        sectors.map(({ share }, k) => {
          const middle = k * 22.5;
          const length = out(share.share ?? 0);
          return (
            <g key={SECTORS[k]}>
              <path
                class="rose-petal"
                d={`M${at(HEART, middle - 4)}L${at(length, middle - 8)}A${length} ${length} 0 0 1 ${at(length, middle + 8)}L${at(HEART, middle + 4)}Z`}
              />
              <path
                class="rose-whisker"
                d={`M${at(out(share.low), middle)}L${at(out(share.high), middle)}M${at(out(share.high), middle - 2.5)}L${at(out(share.high), middle + 2.5)}`}
              />
            </g>
          );
        })}
      <circle class="rose-calm" r={HEART - 2} />
      <text y="-2" text-anchor="middle">
        calm
      </text>
      <text y="11" text-anchor="middle">
        {calmShare.share === null ? '?' : formatShare(calmShare.share)}
      </text>
      {['N', 'E', 'S', 'W'].map((name, k) => (
        <text
          key={name}
          x={(RIM + 11) * Math.sin((k * Math.PI) / 2)}
          y={-(RIM + 11) * Math.cos((k * Math.PI) / 2) + 4}
          text-anchor="middle"
        >
          {name}
        </text>
      ))}
    </svg>
  );
}
