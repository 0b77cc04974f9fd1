import type {
  ComparedStand,
  RequestParams,
  SiteRow,
  StandCamerasAnswer,
  StandCompareAnswer,
  StandRulingsAnswer,
  StandSearchAnswer,
} from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

const saddle: ComparedStand = {
  id: 'f-stand',
  name: 'Saddle stand',
  at: at(216, 150),
  proposed: false,
  weapon: 'bow',
  range: 27.432,
  seatHeight: 5,
  clean: { usual: 0.12, low: 0.06, high: 0.2 },
  verdict: {
    hours: { usual: 18.2, low: 12, high: 25 },
    rested: 5.6,
    worth: 0.03,
    parts: [],
    best: { part: 'evening', winds: ['W', 'calm'], hours: 9, clean: 0.12 },
    spoils: [{ cause: 'scent reaches bedding (The pines)', hours: 23 }],
  },
  usable: 0,
  shareInReach: 0.31,
  shareInView: null,
  inView: 40,
  lanes: { count: 1, clearest: 25, toCut: 12 },
  fire: { checked: 200, closed: 100, open: 60, unknown: 0 },
  closed: [{ from: 200, to: 300, why: 'A house lies in the way.' }],
  ways: [{ part: 'evening', walks: [], clean: false }],
  concealment: { seen: 0.4, skylined: 0.2 },
  unknown: ['How high the seat is.'],
};

const compare = (): StandCompareAnswer => ({
  stands: [
    saddle,
    {
      ...saddle,
      id: 'other',
      name: 'Other stand',
      usable: null,
      clean: null,
      verdict: { ...saddle.verdict, hours: null },
      ways: [{ part: 'evening', walks: [], clean: null }],
    },
  ],
  sentences: ['Saddle stand meets the most travel clean.'],
  cautions: [],
  notes: ['The way in is judged on foot.'],
  seconds: 1,
});

const rulings = (): StandRulingsAnswer => ({
  rulings: [
    {
      stand: { id: 'f-stand', name: 'Saddle stand', at: at(216, 150) },
      ruling: 'move',
      hours: 2,
      byWind: 18,
      worth: 0.01,
      worst: { fault: 'scent', hours: 23, sentence: 'Scent reaches bedding.' },
      change: {
        ruling: 'move',
        what: 'Move it 50 yd to timber.',
        hours: 14,
        gained: 12,
        worth: 0.02,
        seen: null,
        at: at(226, 155),
        lines: [[at(216, 150), at(226, 155)]],
        doubts: [],
      },
      tried: [
        {
          ruling: 'move',
          what: 'Move it 50 yd to timber.',
          hours: 14,
          gained: 12,
          worth: 0.02,
          seen: null,
          at: at(226, 155),
          lines: [],
          doubts: [],
        },
      ],
      sentence: 'Move it 50 yd to timber. It gains 12.0 hours a week.',
      doubts: ['A gain smaller than the band may be none.'],
    },
  ],
  cautions: [],
  notes: ['Every gain is run again.'],
  seconds: 1,
});

const site: SiteRow = {
  ...saddle,
  id: 'site-1',
  name: 'Site 1',
  at: at(240, 170),
  proposed: true,
  seat: 'tower',
  seatHeight: 3.5,
  backed: 0.9,
  value: 0.04,
  potential: 0.04,
  faults: [],
  reasons: ['Neck 1 is in clear view at 20 yd.'],
  unknown: [],
};

const search = ({ plan, weapon }: RequestParams<'stands.search'>): StandSearchAnswer => ({
  plan: plan ? 'travel as the plan makes it' : 'travel as it is today',
  sites: [{ ...site, weapon }],
  ifWay: [
    {
      ...site,
      id: 'site-2',
      name: 'Site 2',
      at: at(200, 120),
      faults: [{ key: 'way', sentence: 'No clean way in.' }],
    },
  ],
  passed: [
    {
      name: 'Neck 4',
      at: at(180, 100),
      share: 0.15,
      faults: [{ key: 'owner', sentence: 'It lies on ground that is not the client’s.' }],
    },
  ],
  sentences: ['The best new site meets 4% of all travel clean.'],
  doubts: ['Timber on the map is not a straight tree.'],
  cautions: [],
  notes: ['What a site is worth.'],
  seconds: 60,
});

const cameras = (): StandCamerasAnswer => ({
  places: [
    {
      at: at(210, 140),
      share: 0.2,
      spread: { low: 0.05, high: 0.3, runs: 32 },
      near: { name: 'neck 1', distance: 30 },
      movedBy: 'Fences',
      days: 12,
      sentences: ['33 yd from neck 1: 20% of all travel passes here.', 'Run it 12 days.'],
    },
  ],
  beside: { at: at(150, 120), share: 0.1, spread: { low: 0.1, high: 0.1, runs: 32 } },
  sentences: [],
  doubts: ['How many deer pass in a day is not known.'],
  seconds: 5,
});

/** Answers about where stands of the fake landscape should go. */
export const searchAnswers = {
  'stands.compare': compare,
  'stands.rulings': rulings,
  'stands.search': search,
  'stands.cameras': cameras,
};
