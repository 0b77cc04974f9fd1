import type {
  AssumptionSetRow,
  BlindTrialAnswer,
  ClosuresAnswer,
  FitAnswer,
  SightingsAnswer,
  UncertaintyAnswer,
  WhatIfAnswer,
  WhyAnswer,
} from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

/** Answers about the fake travel: invented numbers. */
export function travelAnswers(
  settings: () => Record<string, unknown>,
): Record<string, (params: never) => unknown> {
  let compared = 0;
  return {
    'travel.why': (): WhyAnswer => ({
      total: 4.2,
      parts: [
        { part: 'cover', label: 'Open ground', value: 2.6 },
        { part: 'slope', label: 'Climbing', value: 0.6 },
      ],
      factor: 1,
      corridors: ['c1'],
      necks: ['neck-2'],
      routes: [],
      sentences: [
        'A yard here takes as much as 4.2 yards of easy ground.',
        'Open ground: 2.6 more.',
        'Climbing: 0.6 more.',
        'None of the drawn routes passes within 60 yd.',
      ],
    }),
    'travel.whatIf': ({
      spot,
      pair,
      stand,
      goals,
    }: Record<'spot' | 'pair' | 'stand' | 'goals', object | null>): WhatIfAnswer => ({
      overlays: {
        after: { id: `after-${++compared}`, kind: 'passage-after', title: 'Passage as proposed' },
        change: { id: `change-${compared}`, kind: 'passage-change', title: 'Change of passage' },
      },
      necks: [
        { id: 'neck-1', rank: 1, before: 0.31, after: 0.58, pairs: [] },
        { id: 'neck-2', rank: 2, before: 0.24, after: 0.11, pairs: [] },
      ],
      barricades: [
        {
          feature: 'f-barricade',
          name: 'Felled tops',
          at: at(240, 168),
          before: 0.22,
          after: 0.03,
          ends: [],
          cheapest: 'round its south end',
          ways: [
            { way: 'round its south end', cost: 80 },
            { way: 'over it', cost: 300 },
            { way: 'under it', cost: null },
          ],
          detour: 80,
          crossing: 300,
          holds: false,
          reasons: [],
          sentences: ['Deer walk round its south end.', 'The gap at its south end is 31 yd wide.'],
        },
      ],
      ends: [],
      pair: pair && {
        from: 'North bedding',
        to: 'every area',
        ofAll: 0.3,
        necks: [{ id: 'neck-1', rank: 1, before: 0.5, after: 0.8 }],
        cutOff: { before: 0, after: 0 },
        sentences: ['From North bedding 80% pass neck 1, 50% today.'],
      },
      stand: stand && {
        at: at(216, 150),
        reach: 27,
        ofPair: null,
        before: 0.1,
        after: 0.3,
        sentence: 'Within 30 yd of the stand passes 30%, 10% today.',
      },
      goals: goals && {
        gather: { before: 0.2, after: 0.4 },
        keepOut: null,
        rest: { before: 0.8, after: 0.6 },
        dearer: null,
        sentences: ['Past the spot to gather at goes 40%, 20% today.'],
      },
      spot: spot && { before: 0.2, after: 0.44, sentence: 'Within reach of the spot passes 44%, 20% today.' },
      sentences: ['Neck 1 goes from 31% to 58% of all travel.'],
      doubts: ['Nobody can say how soon deer learn a new way.'],
      seconds: 0.4,
    }),
    'travel.closures': ({ neck }: { neck: string | null }): ClosuresAnswer => ({
      goal: neck ?? 'neck-1',
      closures: [
        {
          id: 'closure-1',
          path: [at(250, 175), at(262, 190)],
          length: 110,
          work: 130,
          owner: 'inside',
          leak: 0.12,
          neckBefore: 0.31,
          neckAfter: 0.43,
          effect: null,
          effectSentences: [],
          reasons: [],
          sentence: 'Catches most of what slips by the creek.',
        },
      ],
      sentence: 'One closure would gather more travel at neck 1.',
    }),
    'travel.sets': (): AssumptionSetRow[] => {
      const chosen = (settings().travel as { set?: string } | undefined)?.set ?? 'rut';
      return [
        {
          key: 'rut',
          label: 'Rut, cruising by day',
          holds: 'Bucks cross open ground.',
          chosen: chosen === 'rut',
        },
        { key: 'does', label: 'Does, feeding at dusk', holds: 'They hug cover.', chosen: chosen === 'does' },
      ];
    },
    'travel.uncertainty': ({ runs }: { runs: number }): UncertaintyAnswer => ({
      necks: [
        {
          id: 'neck-1',
          rank: 1,
          share: 0.31,
          spread: { low: 0.22, high: 0.41, runs },
          firm: true,
          reasons: ['Open ground by day moves it most.'],
        },
      ],
      sentence: `1 neck of 5 is firm over ${runs} runs.`,
      seconds: 9,
    }),
    'travel.blindTrial': ({ marks }: { marks: [number, number][] }): BlindTrialAnswer => ({
      marks: marks.map((at, n) => ({ at, neck: n === 0 ? 'neck-1' : null, distance: n === 0 ? 12 : null })),
      found: 1,
      necksFound: 1,
      chance: 0.04,
      byLuck: 0.08,
      sentence: `1 of ${marks.length} marks lies within 50 yd of a neck; so many or more by luck: 8%.`,
    }),
    'travel.fit': (): FitAnswer => ({
      outcome: 'offered',
      seen: 64,
      blocks: 21,
      inForce: { areaUnderCurve: 0.81, inTopTenth: 0.42 },
      fitted: { areaUnderCurve: 0.88, inTopTenth: 0.55 },
      heldOut: { times: 1.31, low: 1.1, high: 1.56 },
      name: 'Fitted to 64 sightings',
      changes: [
        {
          key: 'exposure',
          label: 'Full exposure by day, far from cover',
          unit: 'extra metres of easy ground per metre',
          from: 9,
          to: 14,
        },
      ],
      sentence:
        'Sightings held out of the fit are 1.31 times as likely (1.10 to 1.56) under the fitted weights.',
      doubts: ['Sightings come from where people looked.'],
    }),
    'travel.sightings': (): SightingsAnswer => ({
      seen: 0,
      areaUnderCurve: null,
      inTopTenth: null,
      byLuck: null,
      verdict: 'No sightings were imported.',
    }),
  };
}
