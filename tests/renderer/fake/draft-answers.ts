import type { DraftAnswer, DraftRow } from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

const row = (
  id: string,
  name: string,
  kind: 'barricade' | 'trail' | 'stand',
  geometry: DraftRow['feature']['geometry'],
  more: Partial<DraftRow>,
): DraftRow => ({
  feature: {
    id,
    kind,
    status: 'proposed',
    name,
    geometry,
    attributes: {},
    source: 'drafted by the program',
  },
  name,
  aim: 'travel',
  crew: 'saw',
  hours: 15,
  money: 680,
  takes: 'length 41 yd',
  reasons: ['Built, it brings neck 1 from 31.0% to 35.0% of all travel.'],
  cautions: ['Whether enough trees stand within reach.'],
  needs: [],
  ...more,
});

/** A plan drafted for the fake hollow: invented numbers. */
export const draftAnswers: Record<string, (params: never) => unknown> = {
  'plan.draft': (): DraftAnswer => ({
    lines: [
      row(
        'draft-1-trail',
        'Trail through neck 1',
        'trail',
        { type: 'LineString', coordinates: [at(150, 120), at(180, 140)] },
        {
          hours: 3.5,
          reasons: [
            'Cleared for 200 yd, it brings neck 1 from 31.0% to 31.6% of all travel.',
            'Its slash is thrown well off it.',
          ],
        },
      ),
      row(
        'draft-1-barricade',
        'Barricade 1 for neck 1',
        'barricade',
        { type: 'LineString', coordinates: [at(200, 120), at(220, 140)] },
        {
          needs: ['Trail through neck 1'],
        },
      ),
    ],
    sizes: [
      {
        size: 'weekend',
        title: 'A weekend',
        lines: ['draft-1-trail'],
        hours: 3.5,
        budget: 28,
        money: 90,
        effects: ['Neck 1 goes from 31.0% to 31.6% of all travel.'],
        left: [
          {
            id: 'draft-1-barricade',
            name: 'Barricade 1 for neck 1',
            why: 'It takes 15 h; 10 h were left when its turn came.',
          },
        ],
      },
      {
        size: 'winter',
        title: 'A winter',
        lines: ['draft-1-trail', 'draft-1-barricade'],
        hours: 18.5,
        budget: 168,
        money: 770,
        effects: ['Neck 1 goes from 31.0% to 35.2% of all travel.'],
        left: [],
      },
      {
        size: 'everything',
        title: 'Everything',
        lines: ['draft-1-trail', 'draft-1-barricade'],
        hours: 18.5,
        budget: null,
        money: 770,
        effects: ['Neck 1 goes from 31.0% to 35.2% of all travel.'],
        left: [],
      },
    ],
    passed: [{ what: 'Barricade 1 for neck 2, 40 yd', why: 'It would lie across County road.' }],
    advice: [{ what: 'Fill stand: retire', why: 'Hardly any travel comes in reach and view.' }],
    notes: ['A winter begins with what the weekend holds.'],
    unchecked: ['All of it is computed under one set of assumptions.'],
    cautions: ['The line on the map is not a survey.'],
    seconds: 70,
  }),
};
