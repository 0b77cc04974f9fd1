import { randomUUID } from 'node:crypto';
import { strokeArea } from '../../../core/cover/painting.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { type Handlers, opened } from '../context.ts';
import { edit } from './edit.ts';

export const coverHandlers: Handlers<'cover.paint'> = {
  'cover.paint': async (context, { path, width, cover }) => {
    const geometry = strokeArea(opened(context).input.frame, path, width);
    if (geometry === null)
      throw new Problem('That stroke lies off the map.', { fix: 'Paint on the ground that is shown.' });
    if (geometry === 'too fine')
      throw new Problem('That stroke reaches too far for so narrow a brush.', {
        fix: 'Take a wider brush, or paint it in shorter strokes.',
      });
    return edit(context, ({ store }) =>
      store.putFeature({
        id: `painted-${randomUUID()}`,
        kind: 'truth',
        status: 'existing',
        name: null,
        geometry,
        attributes: { cover },
        source: 'painted',
      }),
    );
  },
};
