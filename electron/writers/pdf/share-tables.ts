import type { ReportTable } from '../../../core/analysis/report.ts';
import type { Paper } from './paper.ts';
import { layTables } from './table-layout.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

/** Rows a table is cut to at least; with fewer it goes to the annex whole. */
const LEAST = 3;

/**
 * Shares tables between a topic's page and the annex: those that fit stay; the first that does not is cut to the rows
 * that do and said to be, and stands whole in the annex with the rest.
 *
 * @param room height for tables on the page, points
 */
export function shareTables(
  paper: Paper,
  tables: readonly ReportTable[],
  room: number,
  type: TypeSizes = USUAL,
): { here: ReportTable[]; later: ReportTable[] } {
  const here: ReportTable[] = [];
  const later: ReportTable[] = [];
  const gap = type.afterTable;
  let left = room;
  for (const row of layTables(paper, tables, type)) {
    const whole = Math.max(...row.map((layout) => layout.whole)) + gap;
    if (whole <= left) {
      here.push(...row.map(({ table }) => table));
      left -= whole;
      continue;
    }
    const [first] = row;
    if (row.length === 1 && first) {
      const { table, heights } = first;
      let used = first.whole - heights.reduce((sum, height) => sum + height, 0) + gap;
      let fit = 0;
      while (fit < heights.length && used + heights[fit]! <= left) used += heights[fit++]!;
      if (fit >= LEAST) {
        const caption = `${table.caption}: the first ${fit}, all in the annex`;
        here.push({ ...table, caption, rows: table.rows.slice(0, fit) });
      }
    }
    // What comes after a table that did not fit would stand out of its order.
    left = 0;
    later.push(...row.map(({ table }) => table));
  }
  return { here, later };
}
