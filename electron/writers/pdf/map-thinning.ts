import type { Feature } from 'geojson';
import type { TableName } from '../tables.ts';

/** A figure of a wide country holds no more marks than one of a farm: the rest is left to the window's map. */

interface Rule {
  /** Drawn only up to so many metres a point; nothing of it beyond. */
  until?: number;
  /** Rows that are left out beyond so many metres a point. */
  minor?: { beyond: number; is(columns: Record<string, unknown>): boolean; called: string };
  /** The most rows, by a column, largest first. */
  most?: { rows: number; by: string; called: string };
}

const RULES: Partial<Record<TableName, Rule>> = {
  contours: {
    until: 45,
    minor: { beyond: 14, is: ({ index }) => index !== true, called: 'index lines only' },
  },
  drainage: { minor: { beyond: 30, is: ({ order }) => Number(order) < 2, called: 'order 2 and up' } },
  ridges: { most: { rows: 120, by: 'length', called: 'the longest' } },
  draws: { most: { rows: 120, by: 'length', called: 'the longest' } },
  saddles: { most: { rows: 40, by: 'rise', called: 'the most marked' } },
  benches: { most: { rows: 60, by: 'area', called: 'the largest' } },
  pools: { most: { rows: 30, by: 'volume', called: 'the largest' } },
};

/** The rows to draw at a scale, and what the legend says of the choice. */
export function thinned(table: TableName, rows: Feature[], scale: number): { rows: Feature[]; note: string } {
  const rule = RULES[table];
  if (!rule) return { rows, note: '' };
  if (rule.until !== undefined && scale > rule.until) return { rows: [], note: '' };
  const { minor, most } = rule;
  const wide = minor !== undefined && scale > minor.beyond;
  const kept = wide ? rows.filter(({ properties }) => !minor.is(properties ?? {})) : rows;
  const note = wide && kept.length < rows.length ? `, ${minor.called}` : '';
  if (!most || kept.length <= most.rows) return { rows: kept, note };
  const size = ({ properties }: Feature): number => Number(properties?.[most.by] ?? 0);
  return {
    rows: kept.toSorted((a, b) => size(b) - size(a)).slice(0, most.rows),
    note: `, ${most.called} ${most.rows}`,
  };
}
