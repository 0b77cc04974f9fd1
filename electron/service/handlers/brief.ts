import { type BriefDefault, briefDefaults, takenFromBrief } from '../../../core/analysis/brief-defaults.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { type Handlers, opened } from '../context.ts';
import { edit, patched } from './edit.ts';

/** What the answers of the brief set, and taking it over again where it was set by hand. */
export const briefHandlers: Handlers<'brief.defaults' | 'brief.take'> = {
  'brief.defaults': async (context) => {
    const { settings, sources } = opened(context).input;
    const names = new Map(sources.features.map(({ id, kind, name }) => [id, name ?? kind]));
    // Places are features, which have names.
    const named = (row: BriefDefault): BriefDefault =>
      row.key === 'hunt.startFrom'
        ? {
            ...row,
            asked: names.get(row.asked) ?? 'a place that is gone',
            set: names.get(row.set) ?? row.set,
          }
        : row;
    return briefDefaults(settings, settings.units).map(named);
  },

  'brief.take': (context, { key }) =>
    edit(context, ({ store, input }) => {
      const patch = takenFromBrief(input.settings, key);
      if (!patch)
        throw new Problem('The brief says nothing of that.', { fix: 'Answer it in the brief first.' });
      return store.changeSettings(patched(input.settings, patch));
    }),
};
