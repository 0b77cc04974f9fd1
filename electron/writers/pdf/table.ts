import type { ReportTable } from '../../../core/analysis/report.ts';
import { INK, MARGIN, type Paper, roomLeft, sayable } from './paper.ts';
import { layTables, type TableLayout } from './table-layout.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

/** Tables that break between rows and repeat their heading on the next page. */

/** Tables up to this height are not broken, points. */
const KEPT = 210;

export function drawTables(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  tables: readonly ReportTable[],
  type: TypeSizes = USUAL,
): void {
  for (const row of layTables(paper, tables, type)) {
    const [first] = row;
    const tallest = Math.max(...row.map(({ whole }) => whole));
    // Tables side by side and short ones are kept in one piece; a long one starts where its first rows fit.
    const wanted = row.length > 1 || tallest <= KEPT ? tallest : first!.titleHeight + first!.heights[0]! + 42;
    if (roomLeft(paper) < wanted) paper.addPage();
    const top = paper.y;
    let bottom = top;
    for (const layout of row) {
      paper.y = top;
      drawTable(paper, section, layout);
      // A table that ran on to another page ends there.
      bottom = row.length > 1 ? Math.max(bottom, paper.y) : paper.y;
    }
    paper.x = MARGIN;
    paper.y = bottom + type.afterTable;
  }
}

/** Draws a table from the pen down. */
export function drawTable(paper: Paper, section: PDFKit.PDFStructureElement, layout: TableLayout): void {
  const { table, left, width, titleHeight, heights } = layout;
  const titles = table.columns.map(({ title }) => title);
  const element = paper.struct('Table');
  section.add(element);
  paper.font('strong').fontSize(layout.type.caption).fillColor(INK.text);
  element.add(
    paper.struct('Caption', {}, () => {
      paper.text(sayable(table.caption), left, paper.y, { width });
    }),
  );
  paper.y += 3;
  drawRow(paper, element, layout, titles, titleHeight, 'TH', null);
  for (const [index, row] of table.rows.entries()) {
    const height = heights[index]!;
    if (roomLeft(paper) < height) {
      paper.addPage();
      // The heading is said once to a reader; its copy on the next page is decoration.
      drawRow(paper, null, layout, titles, titleHeight, 'TH', null);
    }
    drawRow(paper, element, layout, row, height, 'TD', index % 2 === 1 ? INK.shadeRow : null);
  }
  element.end();
}

function drawRow(
  paper: Paper,
  table: PDFKit.PDFStructureElement | null,
  layout: TableLayout,
  cells: readonly string[],
  height: number,
  kind: 'TH' | 'TD',
  fill: string | null,
): void {
  const { type } = layout;
  const top = paper.y;
  const artifact = (draw: () => void): void => {
    paper.markContent('Artifact', { type: 'Layout' });
    draw();
    paper.endMarkedContent();
  };
  artifact(() => {
    if (fill) paper.rect(layout.left, top, layout.width, height).fill(fill);
    if (kind === 'TH') {
      paper.moveTo(layout.left, top + height).lineTo(layout.left + layout.width, top + height);
      paper.lineWidth(0.8).stroke(INK.text);
    }
  });
  const row = table && paper.struct('TR');
  if (table && row) table.add(row);
  let left = layout.left;
  for (const [index, width] of layout.widths.entries()) {
    const x = left;
    const write = (): void => {
      paper
        .font(kind === 'TH' ? 'strong' : 'text')
        .fontSize(type.row)
        .fillColor(INK.text);
      paper.text(sayable(cells[index] ?? ''), x + type.cellPad, top + type.rowPad, {
        width: width - 2 * type.cellPad,
        align: layout.table.columns[index]!.align,
        lineGap: type.rowLeading,
      });
    };
    if (row) row.add(paper.struct(kind, {}, write));
    else artifact(write);
    left += width;
  }
  row?.end();
  paper.y = top + height;
}
