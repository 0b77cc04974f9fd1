import type { ApproachWay, StandReach } from '../../../core/stands/types.ts';
import type {
  RequestParams,
  StandApproachAnswer,
  StandLookAnswer,
} from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

const seat = at(216, 150);

const sectors: StandReach['fire']['sectors'] = [
  { from: 0, to: 200, state: 'checked', stops: 40, meets: 12, behind: [], reasons: ['Ground stops it.'] },
  {
    from: 200,
    to: 300,
    state: 'closed',
    stops: null,
    meets: null,
    behind: [{ what: 'house', name: 'Yard', distance: 320, stopped: false }],
    reasons: ['A house lies behind.'],
  },
  { from: 300, to: 360, state: 'open', stops: null, meets: null, behind: [], reasons: ['Runs on.'] },
];

const lookOf = ({
  at: tried,
  weapon,
  seatHeight,
  leaves,
}: RequestParams<'stands.look'>): StandLookAnswer => ({
  reach: {
    id: 'reach-f-stand',
    spot: {
      id: 'f-stand',
      name: 'Saddle stand',
      at: tried ?? seat,
      seatHeight: seatHeight ?? 5,
      seatKnown: true,
      weapon: weapon ?? 'bow',
      range: weapon === 'rifle' ? 182.88 : 27.432,
      proposed: false,
    },
    leaves: leaves ?? 'off',
    area: 2000,
    clearArea: 900,
    steepest: 14,
    passings: [
      {
        kind: 'neck',
        id: 'neck-1',
        share: 0.31,
        inReach: 30,
        inView: 18.288,
        seen: true,
        nearest: { slant: 18.288, level: 17, down: 14, bearing: 90 },
      },
    ],
    shareInReach: 0.31,
    shareInView: 0.2,
    directions: [],
    lanes: [],
    fire: {
      sectors,
      runs: sectors,
      danger: 500,
      degrees: { checked: 200, closed: 100, open: 60, unknown: 0 },
      looked: ['Houses, roads and stock that are drawn.'],
      cautions: ['The person behind the gun settles it.'],
    },
    concealment: {
      directions: [{ bearing: 90, seen: 0.4, skyline: true, backing: 0.2 }],
      seen: 0.4,
      skylined: 0.2,
      sentences: ['Deer to the east see the hunter against the sky.'],
    },
    sentences: ['0.5 acres in range.'],
    doubts: ['Brush between cells is not seen.'],
  },
  overlay: {
    id: `reach-${tried ? tried.join('-') : 'own'}`,
    kind: 'reach',
    title: 'In range of Saddle stand',
  },
  sectors: {
    type: 'FeatureCollection',
    features: sectors.map((sector) => ({
      type: 'Feature',
      id: `sector-${sector.from}`,
      geometry: { type: 'Polygon', coordinates: [[seat, at(220, 150), at(220, 154), seat]] },
      properties: { ...sector },
    })),
  },
  lanes: { type: 'FeatureCollection', features: [] },
  cautions: [],
  seconds: 0.1,
});

const way: ApproachWay = {
  id: 'way-1',
  kind: 'quickest',
  start: 'the yard',
  path: [at(150, 250), seat],
  length: 914.4,
  driven: 0,
  climb: 30.48,
  minutes: 14,
  seenByBedding: 2.5,
  seenByTravel: 0,
  scent: 3,
  noise: 0,
  crossings: [],
  crossesTravel: 0.12,
  necks: [],
  nearBedding: [],
  acrossNeighbour: 0,
  faults: [{ key: 'scent', grave: true, sentence: 'Scent drifts onto bedding for 3 minutes.' }],
  clean: false,
};

const waysTo = ({ time }: RequestParams<'stands.approach'>): StandApproachAnswer => ({
  approach: {
    stand: 'f-stand',
    name: 'Saddle stand',
    time,
    mode: 'foot',
    wind: 'wind from W',
    ways: [way],
    ifAllowed: null,
    clean: false,
    verdict: 'No clean way in.',
    doubts: [],
  },
  overlay: { id: 'walk-1', kind: 'walk', title: 'What a walker costs' },
  lines: {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        id: 'way-1',
        geometry: { type: 'LineString', coordinates: way.path },
        properties: { kind: 'quickest' },
      },
    ],
  },
  seconds: 0.1,
});

/** Answers about the stands of the fake landscape. */
export const standsAnswers = { 'stands.look': lookOf, 'stands.approach': waysTo };
