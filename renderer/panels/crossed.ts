import type { Crossing } from '../../core/travel/types.ts';
import { rowsOf } from '../state/rows.ts';
import { table } from '../state/tables.ts';

/** Name of the feature a crossing crosses, where it has one: the table carries only its id. */
export function crossedName(crossing: Crossing): string | null {
  if (crossing.kind === 'ownership line') return null;
  const feature = rowsOf('features', table('features').value).find((row) => row.id === crossing.feature);
  return feature?.name ?? null;
}
