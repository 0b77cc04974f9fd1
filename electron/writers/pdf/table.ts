import type { ReportTable } from '../../../core/analysis/report.ts';
import { COLUMN, INK, PAGE, type Paper, roomLeft, sayable } from './paper.ts';

/** Tables that break between rows and repeat their heading on the next page. */

const PAD = 5;
const SIZE = 8.5;
/** Tables up to this height are not broken, points. */
const KEPT = 210;

export function drawTable(paper: Paper, section: PDFKit.PDFStructureElement, table: ReportTable): void {
  if (table.rows.length === 0) return;
  const widths = columnWidths(paper, table);
  const titles = table.columns.map(({ title }) => title);
  const titleHeight = rowHeight(paper, titles, widths, 'strong');
  const heights = table.rows.map((row) => rowHeight(paper, row, widths, 'text'));
  const whole = heights.reduce((sum, height) => sum + height, titleHeight + 22);
  // A short table is kept in one piece; a long one starts where at least its first row fits.
  const wanted = whole <= KEPT ? whole : titleHeight + heights[0]! + 42;
  if (roomLeft(paper) < wanted) paper.addPage();

  const element = paper.struct('Table');
  section.add(element);
  paper.font('strong').fontSize(10).fillColor(INK.text);
  element.add(
    paper.struct('Caption', {}, () => {
      paper.text(sayable(table.caption), PAGE.margin, paper.y, { width: COLUMN });
    }),
  );
  paper.y += 3;
  drawRow(paper, element, table, titles, widths, titleHeight, 'TH', null);
  for (const [index, row] of table.rows.entries()) {
    const height = heights[index]!;
    if (roomLeft(paper) < height) {
      paper.addPage();
      // The heading is said once to a reader; its copy on the next page is decoration.
      drawRow(paper, null, table, titles, widths, titleHeight, 'TH', null);
    }
    drawRow(paper, element, table, row, widths, height, 'TD', index % 2 === 1 ? INK.shadeRow : null);
  }
  element.end();
  paper.y += 12;
}

function drawRow(
  paper: Paper,
  table: PDFKit.PDFStructureElement | null,
  { columns }: ReportTable,
  cells: readonly string[],
  widths: readonly number[],
  height: number,
  kind: 'TH' | 'TD',
  fill: string | null,
): void {
  const top = paper.y;
  const artifact = (draw: () => void): void => {
    paper.markContent('Artifact', { type: 'Layout' });
    draw();
    paper.endMarkedContent();
  };
  artifact(() => {
    if (fill) paper.rect(PAGE.margin, top, COLUMN, height).fill(fill);
    if (kind === 'TH') {
      paper.moveTo(PAGE.margin, top + height).lineTo(PAGE.margin + COLUMN, top + height);
      paper.lineWidth(0.8).stroke(INK.text);
    }
  });
  const row = table && paper.struct('TR');
  if (table && row) table.add(row);
  let left: number = PAGE.margin;
  for (const [index, width] of widths.entries()) {
    const x = left;
    const write = (): void => {
      paper
        .font(kind === 'TH' ? 'strong' : 'text')
        .fontSize(SIZE)
        .fillColor(INK.text);
      paper.text(sayable(cells[index] ?? ''), x + PAD, top + 3, {
        width: width - 2 * PAD,
        align: columns[index]!.align,
        lineGap: 0.5,
      });
    };
    if (row) row.add(paper.struct(kind, {}, write));
    else artifact(write);
    left += width;
  }
  row?.end();
  paper.x = PAGE.margin;
  paper.y = top + height;
}

function rowHeight(paper: Paper, cells: readonly string[], widths: readonly number[], font: string): number {
  paper.font(font).fontSize(SIZE);
  const heights = widths.map((width, index) =>
    paper.heightOfString(sayable(cells[index] || ' '), { width: width - 2 * PAD, lineGap: 0.5 }),
  );
  return Math.max(...heights) + 6;
}

/**
 * A column gets what its longest cell would like where there is room; the narrow ones are served first, and those that
 * would like more share what is left, each at least as wide as its longest word.
 */
function columnWidths(paper: Paper, table: ReportTable): number[] {
  const wishes = table.columns.map(({ title }, index) => {
    let need = 0;
    let like = 0;
    for (const [font, text] of [
      ['strong', title],
      ...table.rows.map((row) => ['text', row[index] ?? '']),
    ] as const) {
      paper.font(font).fontSize(SIZE);
      const words = sayable(text);
      like = Math.max(like, paper.widthOfString(words));
      for (const word of words.split(/[\s-]+/)) need = Math.max(need, paper.widthOfString(word));
    }
    return { index, need: need + 2 * PAD + 1, like: like + 2 * PAD + 1 };
  });
  const widths = new Array<number>(wishes.length).fill(0);
  let room: number = COLUMN;
  let needed = wishes.reduce((sum, { need }) => sum + need, 0);
  for (const [served, { index, need, like }] of wishes.sort((a, b) => a.like - b.like).entries()) {
    needed -= need;
    const fair = room / (wishes.length - served);
    widths[index] = Math.max(need, Math.min(like, fair, room - needed));
    room -= widths[index];
  }
  const total = widths.reduce((sum, width) => sum + width, 0);
  return widths.map((width) => (width * COLUMN) / total);
}
