import { SECTORS } from '../../../core/air/types.ts';
import type {
  CaseRow,
  ForecastAnswer,
  HourCell,
  HoursAnswer,
  LogAnswer,
  RequestParams,
  ScreenAnswer,
  SheetAnswer,
  VerdictAnswer,
  WayTaken,
} from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

const PARTS = ['before sunrise', 'morning', 'midday', 'evening'] as const;
const WINDS = [...SECTORS, 'calm'];
const way: WayTaken = {
  clean: true,
  start: 'the yard',
  minutes: 16.4,
  length: 457.2,
  driven: 228.6,
  path: [at(150, 250), at(216, 150)],
  against: null,
};
const moon = { lit: 0.13, waxing: false, name: 'waning crescent' };

/** West is clean, south is in doubt, no travel is expected at midday, and the rest is spoilt. */
function caseOf(part: (typeof PARTS)[number], wind: string): CaseRow {
  const clean = wind === 'W' ? 0.3 : wind === 'S' ? 0.1 : 0;
  const known = part !== 'midday';
  return {
    part,
    wind,
    speed: wind === 'calm' ? 0 : 3,
    share: 1 / 17,
    state: 'D',
    clean: known ? { usual: clean, low: clean / 2, high: clean + 0.2 } : null,
    spoiled: known ? 0.4 - clean : null,
    never: known ? 0.6 : null,
    alarmed: known ? 0.2 : null,
    directions: known ? [{ between: ['The pines', 'The hay'], share: 0.5, there: 0.2, back: 0.7 }] : [],
    bedding: [],
    hunt: !known ? 'no' : wind === 'W' ? 'yes' : wind === 'S' ? 'doubtful' : 'no',
    why: known ? `Reasons of ${wind}.` : 'No travel is expected at this part of the day.',
    ways: [way],
  };
}

const verdictOf = ({ stand, at: tried, date }: RequestParams<'stands.verdict'>): VerdictAnswer => ({
  verdict: {
    stand: {
      type: 'stand',
      id: stand ?? 'trial',
      name: stand ? 'Saddle stand' : 'This spot',
      at: tried ?? at(216, 150),
      proposed: false,
    },
    parts: PARTS.map((part) => ({
      part,
      lawful: part === 'before sunrise' ? 0 : 24,
      hours: part === 'midday' ? { usual: 0, low: 0, high: 0 } : { usual: 6.5, low: 4, high: 9 },
      reach: part === 'midday' ? null : 0.4,
      clean: part === 'midday' ? null : 0.3,
      winds: ['W'],
      spoilt: ['E'],
    })),
    hours: { usual: 13, low: 8, high: 18 },
    rested: 5.6,
    worth: 0.05,
    best: { part: 'morning', winds: ['W'], hours: 6.5, clean: 0.3 },
    spoils: [{ cause: 'scent drifts over travel elsewhere', hours: 20 }],
    sentences: [
      'Its wind lets it be hunted 13 h of 72 h of light a week.',
      'Lost 20 h a week: scent drifts.',
    ],
  },
  usable: { hours: { usual: 6.5, low: 4, high: 9 }, rested: 5.6 },
  lost: ['No clean way out after dark on foot, whatever the wind. It walks through neck 1.'],
  cases: PARTS.flatMap((part) => WINDS.map((wind) => caseOf(part, wind))),
  inView: 32,
  onDate:
    date === null
      ? null
      : {
          left: 0.8,
          reasons: ['a hunter sat the day before'],
          since: 1,
          wait: 4,
          closed: null,
          phase: 'cruising',
          moon,
        },
  notes: ['No rule for legal light was entered.'],
  seconds: 1,
});

const sheetOf = (): SheetAnswer => ({
  windows: [
    { name: 'pre-rut', from: '10-11', to: '10-24', rut: true },
    { name: 'cruising', from: '10-25', to: '11-15', rut: true },
  ],
  lines: [0, 1].flatMap((window) =>
    PARTS.slice(1).flatMap((part) =>
      WINDS.map((wind) => {
        const sat = wind === 'W' || (window === 1 && wind === 'S');
        return {
          window,
          part,
          wind,
          share: 1 / 17,
          choices: sat
            ? [{ stand: 'f-stand', name: 'Saddle stand', clean: 0.3, firm: wind === 'W', ways: [way] }]
            : [],
          seated: '06:29',
          until: '10:27',
          leave: part === 'morning',
          sentence: sat ? `Saddle stand with wind ${wind}.` : `Stay home: reasons of ${wind}.`,
        };
      }),
    ),
  ),
  apart: [
    {
      stands: ['f-stand', 'f-other'],
      names: ['Saddle stand', 'Bench stand'],
      cases: [
        { part: 'morning', wind: 'N' },
        { part: 'morning', wind: 'calm' },
      ],
      why: 'The scent of one takes more than a fifth of the other’s clean travel.',
    },
  ],
  zone: 'UTC-5',
  notes: ['Peak breeding is taken as the middle of November.'],
  seconds: 1,
});

const forecastOf = ({ windFrom, hunters }: RequestParams<'stands.forecast'>): ForecastAnswer => ({
  wind: SECTORS[Math.round(windFrom / 22.5) % 16]!,
  parts: [
    {
      part: 'morning',
      from: '06:59',
      to: '10:27',
      picks: [
        {
          stand: 'f-stand',
          name: 'Saddle stand',
          clean: 0.3,
          left: 1,
          seated: '06:29',
          ways: [way, { ...way, clean: false, against: 'It walks through neck 1.' }],
          why: '30% of the travel comes clean.',
        },
      ],
      passed: hunters > 1 ? [{ stand: 'f-other', name: 'Bench stand', why: 'It rests 3 more days.' }] : [],
      sentence: 'Saddle stand in the morning, seated by 06:29.',
    },
    {
      part: 'evening',
      from: '13:54',
      to: '17:21',
      picks: [],
      passed: [],
      sentence: 'Stay home in the evening: scent reaches bedding.',
    },
  ],
  phase: 'cruising',
  moon,
  zone: 'UTC-5',
  notes: [],
  seconds: 1,
});

const screenOf = ({ shape, plant, opens }: RequestParams<'stands.screen'>): ScreenAnswer => ({
  trial: {
    seasons: [0, 1, 2, 3].map((season) => ({
      season,
      height: [0, 0.762, 1.9812, 2.5908][season]!,
      seen: [
        {
          name: 'Somebody standing at Saddle stand',
          travel: season < 2 ? 0.6 : 0.05,
          bedding: null,
          food: 0,
          most: season < 2 ? 0.6 : 0.05,
        },
      ],
      shots: shape === 'beside' ? null : 0.7,
    })),
    hiddenFrom: [{ name: 'Somebody standing at Saddle stand', season: 2 }],
    sentences: ['Somebody standing at Saddle stand: hidden from season 2 on.'],
    doubts: ['Snow and ice lay grass down.'],
  },
  lines: {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        id: 'screen-0',
        geometry: { type: 'LineString', coordinates: [at(214, 148), at(216, 147), at(218, 148)] },
        properties: { says: plant },
      },
    ],
  },
  plant: plant ?? 'switchgrass',
  width: 2.7432,
  length: 20,
  opens: shape === 'crescent' ? (opens ?? 190) : null,
  side: shape === 'beside' ? 'right' : null,
  attributes: { species: plant ?? 'switchgrass', rows: 3, rowSpacing: 0.9144 },
  notes: [],
  cautions: ['A herbicide is used only as its label says.'],
  seconds: 1,
});

const logOf = (): LogAnswer => ({
  sits: [],
  scores: [
    {
      about: 'scent',
      came: 1,
      of: 2,
      expected: 0.4,
      luck: null,
      sentence: '1 of 2 groups of deer caught your scent; the verdict expects 0.4. Too few to say: 2.',
    },
  ],
  notes: ['Deer that were not seen are not in it.'],
  seconds: 1,
});

/** Three days: a usual one, one of rest for the saddle stand, one with nothing known at its end. */
const hoursOf = ({ stand, year }: RequestParams<'stands.hours'>): HoursAnswer => {
  const band = { usual: 0.3, low: 0.2, high: 0.6 };
  const cell = (hour: number, more: Partial<HourCell> = {}): HourCell => ({
    hour,
    from: hour === 7 ? 30 : 0,
    to: 60,
    state: 'open',
    share: band,
    chances: [{ of: 0, minutes: hour === 7 ? 30 : 60 }],
    ...more,
  });
  const day = (date: string, cells: HourCell[]) => ({
    date,
    lawful: 2.5,
    hours: { usual: 0.75, low: 0.5, high: 1.5 },
    barred: [],
    cells,
    light: { from: '07:30', to: '10:00' },
    phase: 'cruising',
    disturbed: [],
    sits: [],
  });
  const none: Partial<HourCell> = { state: 'none', share: null, chances: [{ of: 1, minutes: 60 }] };
  const resting: Partial<HourCell> = { state: 'rest', share: null, chances: [] };
  const rests = stand === 'f-stand';
  return {
    days: [
      { ...day(`${year}-10-31`, [cell(7), cell(8), cell(9, none)]), sits: ['Saddle stand'] },
      rests
        ? {
            ...day(
              `${year}-11-01`,
              [7, 8, 9].map((hour) => cell(hour, resting)),
            ),
            hours: { usual: 0, low: 0, high: 0 },
            barred: [{ stand: 'f-stand', by: 'rest' as const, why: 'Saddle stand rests 4 more days.' }],
          }
        : day(`${year}-11-01`, [cell(7), cell(8)]),
    ],
    chances: [
      {
        part: 'morning',
        month: 10,
        counted: 412,
        share: band,
        variable: 0.04,
        winds: ['W', 'calm'],
        stands: [{ id: 'f-stand', share: 0.3, winds: ['W', 'calm'] }],
        against: null,
      },
      {
        part: 'midday',
        month: 10,
        counted: 400,
        share: { usual: 0, low: 0, high: 0 },
        variable: 0,
        winds: [],
        stands: [],
        against: { wind: 'S', stand: 'Saddle stand', why: 'The scent reaches bedding (The pines).' },
      },
    ],
    names: stand ? { 'f-stand': 'Saddle stand' } : { 'f-stand': 'Saddle stand', 'f-other': 'Bench stand' },
    zone: 'UTC-5',
    doubts: ['The wind is the station’s.'],
    notes: ['It is what is usual, not a forecast.'],
    seconds: 1,
  };
};

/** Answers about when the stands of the fake landscape are sat, and what hides them. */
export const whenAnswers = {
  'stands.verdict': verdictOf,
  'stands.sheet': sheetOf,
  'stands.hours': hoursOf,
  'stands.forecast': forecastOf,
  'stands.screen': screenOf,
  'stands.log': logOf,
};
