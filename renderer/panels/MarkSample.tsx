import { INK } from '../map/theme.ts';
import type { MarkLayer } from '../state/stages.ts';

const line = (d: string, stroke: string, width: number, dash?: string) => (
  <path d={d} stroke={stroke} stroke-width={width} stroke-dasharray={dash} fill="none" />
);
const wave = 'M1 10C8 2 14 14 27 5';
const across = 'M1 8H27';

/** The mark as it is on the map, small. */
export function MarkSample({ layer }: { layer: MarkLayer }) {
  return (
    <svg width="28" height="16" viewBox="0 0 28 16" aria-hidden="true" class="sample">
      <rect width="28" height="16" rx="2" class="sample-ground" />
      {drawn(layer)}
    </svg>
  );
}

function drawn(layer: MarkLayer) {
  switch (layer) {
    case 'contours':
      return line(wave, INK.contour, 1.3);
    case 'drainage':
      return line(wave, INK.water, 2.4);
    case 'channels':
      return (
        <>
          {line(wave, INK.water, 1.2)}
          <circle cx="9" cy="7" r="4" fill={INK.water} stroke={INK.paper} />
          <circle cx="21" cy="8" r="2.5" fill={INK.paper} stroke={INK.water} />
        </>
      );
    case 'ridges':
      return line(across, INK.ridge, 2, '9 3 2 3');
    case 'draws':
      return line(across, INK.cold, 1.8, '2 4');
    case 'saddles':
      return <path d="M14 2l2 4 4 2-4 2-2 4-2-4-4-2 4-2Z" fill={INK.ridge} />;
    case 'benches':
      return (
        <>
          <rect x="4" y="3" width="20" height="10" fill="none" stroke={INK.bench} />
          {line('M4 8H24', INK.bench, 1)}
        </>
      );
    case 'blocks':
      return (
        <rect x="4" y="3" width="20" height="10" fill="none" stroke={INK.cover} stroke-dasharray="6 2" />
      );
    case 'areas':
      return <circle cx="14" cy="8" r="4" fill={INK.paper} stroke={INK.cover} stroke-width="2" />;
    case 'corridors':
      return line(wave, INK.corridor, 3);
    case 'bands':
      return (
        <path
          d="M1 12C8 3 14 15 27 8V2C14 7 8 -2 1 5Z"
          fill={`${INK.corridor}40`}
          stroke={INK.corridor}
          stroke-dasharray="3 3"
        />
      );
    case 'crossings':
      return (
        <path
          d="M14 1.500l6.500 6.500-6.500 6.500L7.500 8Z"
          fill={INK.paper}
          stroke={INK.ink}
          stroke-width="1.300"
        />
      );
    case 'routes':
      return (
        <>
          {line(wave, INK.corridor, 1)}
          {line('M1 13C9 4 15 16 27 8', INK.corridor, 1)}
        </>
      );
    case 'junctions':
      return (
        <>
          {line('M14 8L24 2M14 8L4 4M14 8L12 16', INK.ink, 1.8)}
          <circle cx="14" cy="8" r="4" fill={INK.paper} stroke={INK.ink} stroke-width="1.6" />
        </>
      );
    case 'necks':
      return (
        <>
          {line(across, INK.tape, 3)}
          <circle cx="14" cy="8" r="6" fill={INK.tape} stroke={INK.paper} />
          <text x="14" y="11.200" text-anchor="middle" font-size="9" font-weight="700" fill={INK.paper}>
            1
          </text>
        </>
      );
    case 'pool-marks':
      return <circle cx="14" cy="8" r="4.500" fill={INK.cold} stroke={INK.paper} stroke-width="1.500" />;
    case 'carries':
      return (
        <>
          {line(across, INK.air, 2.2, '5 3')}
          <path d="M27 8l-7-4v8Z" fill={INK.air} />
        </>
      );
    case 'stands':
      return <path d="M14 1l7.500 13h-15Z" fill="#a32a00" stroke={INK.paper} />;
    case 'features':
      return (
        <>
          {line('M1 5H27', INK.stone, 2.2)}
          {line('M1 11H27', INK.stone, 2.2, '5 3')}
        </>
      );
    case 'boundary':
      return line(across, INK.ink, 2.2, '9 3 2 3');
  }
}
