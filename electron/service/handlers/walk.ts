import { Problem } from '../../../core/grid/problem.ts';
import { isoToday } from '../../../core/plan/days.ts';
import { answered } from '../../../core/plan/walk-answers.ts';
import { type Handlers, opened } from '../context.ts';
import { removed, walkOf } from '../walk.ts';
import { edit } from './edit.ts';

export const walkHandlers: Handlers<'walk.list' | 'walk.answer'> = {
  'walk.list': async (context) => walkOf(opened(context)),

  'walk.answer': (context, { stop, choice, text }) =>
    edit(context, async (property) => {
      const spot = walkOf(property)?.spots.find(({ id }) => id === stop);
      if (!spot)
        throw new Problem('That stop is not on the walk list any more.', {
          fix: 'Draw a note on the map where it belongs.',
        });
      const chosen = spot.choices.find(({ key }) => key === choice) ?? null;
      if (choice !== null && !chosen)
        throw new Problem(`“${choice}” is no answer to that stop.`, {
          fix: `Answer one of: ${spot.choices.map(({ key }) => key).join(', ')}.`,
        });
      const { puts, removes } = answered(spot, chosen, text, isoToday());
      await property.store.change(`What was found at ${spot.title}`, [
        ...removed(property, removes),
        ...puts.map((feature) => ({ type: 'put' as const, feature })),
      ]);
    }),
};
