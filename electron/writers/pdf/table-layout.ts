import type { ReportTable } from '../../../core/analysis/report.ts';
import { columnOf, MARGIN, type Paper, sayable } from './paper.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

/** How wide and high a table comes out, before a line of it is drawn. */

/** Between two tables side by side, points. */
const GUTTER = 24;
const halfOf = (paper: Paper): number => (columnOf(paper) - GUTTER) / 2;

export interface TableLayout {
  table: ReportTable;
  left: number;
  width: number;
  /** Of the columns. */
  widths: number[];
  titleHeight: number;
  /** Of the rows. */
  heights: number[];
  /** With its caption. */
  whole: number;
  type: TypeSizes;
}

interface Wish {
  /** Width of the longest word. */
  need: number;
  /** Width of the longest cell. */
  like: number;
}

/** Tables in rows of one, or of two where both are narrow enough to stand side by side. */
export function layTables(
  paper: Paper,
  tables: readonly ReportTable[],
  type: TypeSizes = USUAL,
): TableLayout[][] {
  const rows: TableLayout[][] = [];
  const filled = tables.filter(({ rows: cells }) => cells.length > 0);
  for (let index = 0; index < filled.length; index++) {
    const table = filled[index]!;
    const next = filled[index + 1];
    if (next && isNarrow(paper, table, type) && isNarrow(paper, next, type)) {
      rows.push([
        layTable(paper, table, MARGIN, halfOf(paper), type),
        layTable(paper, next, MARGIN + halfOf(paper) + GUTTER, halfOf(paper), type),
      ]);
      index++;
    } else rows.push([layTable(paper, table, MARGIN, columnOf(paper), type)]);
  }
  return rows;
}

const isNarrow = (paper: Paper, table: ReportTable, type: TypeSizes): boolean =>
  table.rows.length <= 24 &&
  wishesOf(paper, table, type).reduce((sum, { like }) => sum + like, 0) <= halfOf(paper);

export function layTable(
  paper: Paper,
  table: ReportTable,
  left: number,
  width: number,
  type: TypeSizes = USUAL,
): TableLayout {
  const widths = columnWidths(wishesOf(paper, table, type), width);
  const titles = table.columns.map(({ title }) => title);
  const titleHeight = rowHeight(paper, titles, widths, 'strong', type);
  const heights = table.rows.map((row) => rowHeight(paper, row, widths, 'text', type));
  paper.font('strong').fontSize(type.caption);
  const caption = paper.heightOfString(sayable(table.caption), { width }) + 3;
  const whole = heights.reduce((sum, height) => sum + height, titleHeight + caption);
  return { table, left, width, widths, titleHeight, heights, whole, type };
}

function rowHeight(
  paper: Paper,
  cells: readonly string[],
  widths: readonly number[],
  font: string,
  type: TypeSizes,
): number {
  paper.font(font).fontSize(type.row);
  const heights = widths.map((width, index) =>
    paper.heightOfString(sayable(cells[index] || ' '), {
      width: width - 2 * type.cellPad,
      lineGap: type.rowLeading,
    }),
  );
  return Math.max(...heights) + 2 * type.rowPad;
}

function wishesOf(paper: Paper, { columns, rows }: ReportTable, type: TypeSizes): Wish[] {
  return columns.map(({ title }, index) => {
    let need = 0;
    let like = 0;
    for (const [font, text] of [
      ['strong', title],
      ...rows.map((row) => ['text', row[index] ?? '']),
    ] as const) {
      paper.font(font).fontSize(type.row);
      const words = sayable(text);
      like = Math.max(like, paper.widthOfString(words));
      for (const word of words.split(/[\s-]+/)) need = Math.max(need, paper.widthOfString(word));
    }
    return { need: need + 2 * type.cellPad + 1, like: like + 2 * type.cellPad + 1 };
  });
}

/**
 * A column gets what its longest cell would like where there is room; the narrow ones are served first, and those that
 * would like more share what is left, each at least as wide as its longest word.
 */
function columnWidths(wishes: readonly Wish[], width: number): number[] {
  const widths = new Array<number>(wishes.length).fill(0);
  let room = width;
  let needed = wishes.reduce((sum, { need }) => sum + need, 0);
  const order = wishes.map((_, index) => index).sort((a, b) => wishes[a]!.like - wishes[b]!.like);
  for (const [served, index] of order.entries()) {
    const { need, like } = wishes[index]!;
    needed -= need;
    const fair = room / (order.length - served);
    widths[index] = Math.max(need, Math.min(like, fair, room - needed));
    room -= widths[index]!;
  }
  const total = widths.reduce((sum, column) => sum + column, 0);
  return widths.map((column) => (column * width) / total);
}
