import type { ReportTable } from '../report.ts';

type Column = ReportTable['columns'][number];

export const left = (title: string): Column => ({ title, align: 'left' });
/** Numbers stand right, so that their digits line up. */
export const right = (title: string): Column => ({ title, align: 'right' });

/**
 * A table of a report page, or none where there is nothing to list.
 *
 * @throws Error when a row has another number of cells than there are columns
 */
export function table(caption: string, columns: Column[], rows: string[][]): ReportTable[] {
  const wrong = rows.find((row) => row.length !== columns.length);
  if (wrong) throw new Error(`“${caption}” has ${columns.length} columns, a row has ${wrong.length} cells`);
  return rows.length === 0 ? [] : [{ caption, columns, rows }];
}

/** Says so where a list was cut. */
export const shown = (what: string, of: number, most: number): string =>
  of > most ? `${what} (the first ${most} of ${of})` : what;
