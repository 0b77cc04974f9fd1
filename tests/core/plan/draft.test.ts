import { expect, it } from 'vitest';
import { FOOT, YARD } from '../../../core/features/units.ts';
import { draftOf } from '../../../core/plan/draft.ts';
import type { DraftIdea } from '../../../core/plan/draft-types.ts';
import { feature, line, point, SETTINGS } from './scene.ts';

const idea = (made: DraftIdea['feature'], more: Partial<DraftIdea> = {}): DraftIdea => ({
  feature: made,
  aim: 'travel',
  gain: 0.01,
  reasons: ['It gains.', 'More.'],
  cautions: [],
  needs: [],
  ...more,
});

it('a draft has the hours of the work list, its reasons and needs on what is drawn, and names of its own', () => {
  // 200 ft of barricade 5 ft high: (200 / 12 = 17 tops) x 2 layers, a tenth over = 38 trees at 0.6 h = 22.8, booked 23 h.
  const barricade = feature('barricade', 'barricade', line([0, 0], [200 * FOOT, 0]), { height: 5 * FOOT });
  // 100 yd of 6 ft: 1800 ft² of 43,560 at 30 h an acre = 1.24 h, booked 1.5 h.
  const trail = feature('trail', 'trail', line([0, 300], [100 * YARD, 300]));
  const screen = feature('screen', 'screen', line([0, 340], [100 * YARD, 340]), { plant: 'rhizomes' });
  const draft = draftOf(
    [idea(trail, { needs: ['barricade'] }), idea(barricade), idea(screen, { aim: 'stand' })],
    [{ ...feature('other', 'stand', point(0, 0)), name: 'the TRAIL' }],
    SETTINGS,
    'us',
  );
  const [weekend, winter, all] = draft.sizes;
  // Two people, two days of seven hours; twelve days of a winter.
  expect([weekend!.budget, winter!.budget, all!.budget]).toEqual([28, 168, null]);
  expect(draft.lines.map(({ job }) => [job.name, job.hours])).toEqual([
    ['The barricade', 23],
    ['The trail (2)', 1.5],
    ['The screen', expect.any(Number)],
  ]);
  expect(weekend!.lines).toEqual(['barricade', 'trail']);
  // Screens are planted about the last frost, when no timber may be cut.
  expect(winter!.left).toEqual([
    { id: 'screen', why: 'It is not work for the days when timber may be cut.' },
  ]);
  expect(draft.lines[1]!.feature.attributes).toMatchObject({ needs: 'barricade', why: 'It gains.' });
  expect(draft.cautions.join(' ')).toContain('helmet');
});
