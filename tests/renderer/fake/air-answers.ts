import { type PartTable, wilson } from '../../../core/air/season.ts';
import { SECTORS } from '../../../core/air/types.ts';
import type {
  HourAnswer,
  RequestParams,
  RoseAnswer,
  ScentAnswer,
  StandAirAnswer,
  TrailsAnswer,
  TurnsAnswer,
  WayScentAnswer,
} from '../../../electron/service/contract.ts';
import { at, FRAME } from './ground.ts';

const hours = [10, 0, 0, 0, 0, 0, 0, 0, 20, 0, 0, 0, 40, 0, 0, 0];
const PARTS = ['before sunrise', 'morning', 'midday', 'evening', 'night'] as const;
const tableOf = <P extends string>(part: P) => ({
  part,
  total: 100,
  calms: 25,
  variable: 5,
  sectors: hours.map((count) => ({
    hours: count,
    share: wilson(count, 100, 20),
    speed: count ? 4 : null,
    cloud: count === 40 ? 0.625 : null,
  })),
  calmShare: wilson(25, 100, 20),
  calmCloud: null,
  gustiness: null,
  unsteadiness: 0.5,
  stability: { D: 75, 'calm drainage': 25 },
});

type Hour = RequestParams<'air.clock'>;
const clock = (hour: number) => `${String(hour).padStart(2, '0')}:00`;

/** Air that slides south before sunrise and goes with the wind by day; the west does not know its way. */
function hourOf({ hour, windFrom, windSpeed }: Hour): HourAnswer {
  const night = hour < 7 || hour > 17;
  const [columns, rows] = [24, 19];
  const step = 100;
  const places = Array.from({ length: columns * rows }, (_, k) => k % columns);
  const slides = night && windSpeed < 2;
  return {
    state: slides ? 'calm drainage' : 'D',
    sun: night ? -12.4 : 30.2,
    arrows: {
      west: FRAME.west + step / 2,
      north: FRAME.north - step / 2,
      step,
      columns,
      rows,
      speed: places.map((column) => (column < 10 ? 0 : slides ? 0.8 : windSpeed)),
      towards: places.map((column) => (column < 10 ? null : slides ? 180 : (windFrom + 180) % 360)),
      held: places.map(() => (slides ? 1 : 0)),
    },
    held: slides ? 0.9 : 0,
    filled: night ? 0.5 : 0,
    pools: slides ? { id: `air-pools-${hour}`, kind: 'air-pools', title: `Pools at ${clock(hour)}` } : null,
    overlay: night
      ? { id: `air-layer-${hour}`, kind: 'air-layer', title: `Cold air at ${clock(hour)}` }
      : null,
    sentence: `At ${clock(hour)} UTC-6, ${windSpeed === 0 ? 'calm' : 'windy'}.`,
    notes: ['Clear sky is assumed.'],
  };
}

const scentOf = ({ hour, windSpeed, x }: RequestParams<'air.scent'>): ScentAnswer => ({
  state: 'D',
  eddying: false,
  overlay: { id: `scent-${hour}-${windSpeed}-${Math.round(x)}`, kind: 'scent', title: 'Scent' },
  verdict: windSpeed === 0 ? 'Goes 310 yd south, misses travel.' : 'Goes 200 yd east, meets 12% of travel.',
  carry: { low: 91.44, usual: 182.88, high: 365.76 },
  beyond: { low: false, usual: false, high: true },
  travel: { low: 0, usual: 0.12, high: 0.2 },
  bedding: ['Pines'],
  creek: {
    held: 100,
    seconds: 130,
    spill: at(220, 200),
    words: 'runs down the creek below the banks for 109 yd',
  },
  spill: at(220, 200),
  arrivals: [
    { distance: 50, seconds: 45 },
    { distance: 100, seconds: 150 },
    { distance: 200, seconds: null },
  ],
  followed: 900,
  notes: ['A deer is taken to notice scent thinned to 0.0003 s/m³.'],
});

const standOf = (): StandAirAnswer => ({
  name: 'Saddle stand',
  cases: PARTS.flatMap((part) =>
    [...SECTORS, 'calm'].map((wind, k) => {
      const { share, low, high } = wilson(hours[k] ?? 25, 100, 20);
      return {
        part,
        wind,
        speed: wind === 'calm' ? 0 : 4,
        share,
        low,
        high,
        state: 'D' as const,
        eddying: false,
        carry: 180,
        travel: 0.1,
        bedding: [],
        verdict:
          wind === 'calm'
            ? 'The air hardly moves: scent hangs round the stand.'
            : `Goes downwind of ${wind}.`,
      };
    }),
  ),
  parts: PARTS.map((part) => ({ part, clean: 0.4, good: ['W', 'WNW'], bad: ['E'] })),
  risks: ['Clean in only 5% of the midday hours.'],
  deer: SECTORS.map((wind) => ({
    wind,
    into: 0.5,
    across: 0.2,
    checks: wind === 'W' ? [{ area: 'Pines', distance: 91.44 }] : [],
  })),
  shared: [{ stand: 'f-stand', part: 'morning', wind: 'W', deer: 0.7, spoiled: 0, hours: 0.4 }],
  turns: {
    begins: '16:20',
    ends: '08:00',
    upslopeBegins: '09:00',
    upslopeEnds: '15:10',
    sunReaches: '07:40',
    zone: 'UTC-6',
  },
  notes: ['One clear day of the season stands for all.'],
});

/** Answers about the air of the fake landscape. */
export const airAnswers = {
  'air.rose': (): RoseAnswer => ({
    parts: PARTS.map((part): PartTable => tableOf(part)),
    together: [{ ...tableOf('first light to early afternoon'), total: 300 }],
    notes: ['100 hours were kept.'],
    sentence: 'Most often from W (40% of 100 hours); calm in 25%.',
    record: null,
  }),
  'air.clock': hourOf,
  'air.scent': scentOf,
  'air.stand': standOf,
  'air.trails': (): TrailsAnswer => ({
    trails: [0.6, 0.2].map((share, n) => ({
      route: `route-${n}`,
      from: 'Pines',
      to: 'Beans',
      share,
      path: [at(60, 60 + 9 * n), at(60, 140), at(140, 140)],
      winds: SECTORS.map((wind) => ({
        wind,
        into: n === 1 ? 1 : 0,
        across: n === 1 ? 0 : 2 / 3,
        with: n === 1 ? 0 : 1 / 3,
        legs: wind === 'W' ? 'aw' : 'ia',
        checks: wind === 'W' ? [{ area: 'Pines', distance: 91.44 + 10 * n }] : [],
      })),
      sentence: 'Most of it into or across the wind from N (50% into, 50% across).',
    })),
    winds: SECTORS.map((wind, k) => ({
      wind,
      hours: hours[k]! / 100,
      into: wind === 'W' ? 0 : 0.5,
      across: 0.5,
      checks: wind === 'W' ? [{ area: 'Pines', distance: 91.44 }] : [],
    })),
    bedding: [
      {
        at: at(100, 80),
        checked: 0.31,
        route: 'route-1',
        distance: 80,
        sentence: 'Bedding here would be checked from the trail between Pines and Beans.',
      },
    ],
    doubts: ['Whether there are deer in the bedding.'],
    notes: ['A trail is judged the way it is drawn.'],
  }),
  'air.wayScent': (): WayScentAnswer => ({
    state: 'D',
    overlay: { id: 'way-scent-1', kind: 'way-scent', title: 'Scent of the way' },
    verdict: '219 yd in 3 min: drags scent through bedding (Pines) from 66 yd to 131 yd along it.',
    length: 200,
    minutes: 3.3,
    travel: { low: 0, usual: 0.08, high: 0.2 },
    bedding: ['Pines'],
    stretches: [
      { from: 0, to: 60, path: [at(150, 150), at(160, 150)], bedding: [], travel: 0 },
      { from: 60, to: 120, path: [at(160, 150), at(170, 150)], bedding: ['Pines'], travel: 0.08 },
    ],
    doubts: ['Scent that boots leave is not in it.'],
    notes: ['Clear sky is assumed.'],
  }),
  'air.turns': (): TurnsAnswer => ({
    zone: 'UTC-6',
    sunReaches: '07:10',
    sunLeaves: '15:40',
    turns: [{ at: '08:20', hour: 8.3, from: 'drains', to: 'upslope' }],
    hours: [],
    sentence: 'Drains until 08:20, then runs up.',
    notes: [],
  }),
};
