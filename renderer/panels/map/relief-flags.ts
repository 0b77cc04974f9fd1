import { computed } from '@preact/signals';
import type { Point } from '../../../core/grid/frame.ts';
import { marksOf } from '../../map/stage-map.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { type Selection, selection, shown, stage } from '../../state/view.ts';
import { neckTitle } from '../../words/sentences.ts';

export interface Flag {
  type: Selection['type'];
  id: string;
  at: Point;
  words: string;
  /** What stands on the flag. */
  short: string;
  flagClass: string;
}

/** What stands on the block: the numbered and named marks that the stage shows on its map. */
export const reliefFlags = computed((): Flag[] => {
  const property = summary.value;
  if (!property) return [];
  const on = new Set(
    marksOf(stage.value, shown.value, property)
      .filter((mark) => mark.on)
      .map(({ layer }) => layer),
  );
  const chosen = (type: Selection['type'], id: string) =>
    selection.value?.type === type && selection.value.id === id ? ' chosen' : '';
  const flags: Flag[] = [];
  if (on.has('necks'))
    for (const neck of rowsOf('necks', table('necks').value))
      flags.push({
        type: 'neck',
        id: neck.id,
        at: neck.at,
        words: `Neck ${neck.rank}: ${neckTitle(neck, units.value)}`,
        short: String(neck.rank),
        flagClass: `neck${neck.firm ? ' firm' : ''}${chosen('neck', neck.id)}`,
      });
  if (on.has('saddles'))
    rowsOf('saddles', table('saddles').value).forEach((saddle, n) => {
      flags.push({
        type: 'saddle',
        id: saddle.id,
        at: saddle.at,
        words: `Saddle ${n + 1}`,
        short: 'saddle',
        flagClass: `named${chosen('saddle', saddle.id)}`,
      });
    });
  if (on.has('features'))
    for (const row of rowsOf('features', table('features').value))
      if (row.kind === 'stand' && row.shape.type === 'Point')
        flags.push({
          type: 'feature',
          id: row.id,
          at: [row.shape.coordinates[0]!, row.shape.coordinates[1]!],
          words: row.name ?? 'Stand',
          short: row.name ?? 'stand',
          flagClass: `named${chosen('feature', row.id)}`,
        });
  return flags;
});
