import { computed } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import { USUAL_SEAT } from '../words/air.ts';
import { type FeatureRow, type Row, rowsOf } from './rows.ts';
import { table } from './tables.ts';

export interface ListedStand {
  id: string;
  name: string;
  at: Point;
  /** Height of the seat, m; the usual one where none is stated. */
  seat: number;
  row: Row<FeatureRow>;
}

/** Stands on the map in the order they are drawn, named as the analysis names them. */
export const stands = computed((): ListedStand[] =>
  rowsOf('features', table('features').value)
    .filter(({ kind }) => kind === 'stand')
    .flatMap((row, k) => {
      if (row.shape.type !== 'Point') return [];
      const [x, y] = row.shape.coordinates;
      const height = row.attributes.seatHeight;
      return [
        {
          id: row.id,
          name: row.name ?? `Stand ${k + 1}`,
          at: [x!, y!],
          seat: typeof height === 'number' ? height : USUAL_SEAT,
          row,
        },
      ];
    }),
);
