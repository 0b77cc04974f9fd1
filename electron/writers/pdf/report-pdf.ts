import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportModel, ReportPage } from '../../../core/analysis/report.ts';
import { drawMap } from './map-figure.ts';
import { COLUMN, finish, INK, openPaper, PAGE, type Paper, roomLeft, sayable } from './paper.ts';
import { drawTables } from './table.ts';

/**
 * The report as a PDF for US letter paper: a page a topic (more where its tables run on), bookmarks, an embedded
 * open typeface, and a structure that a screen reader can follow. Made-up properties say so on every page.
 */
export async function encodePdf(report: ReportModel, artifacts: Artifacts): Promise<Uint8Array> {
  const { name, invented } = report.property;
  const mark = invented && !/invented/i.test(name) ? ' (invented example)' : '';
  const title = `${name}${mark}: habitat scouting report`;
  const paper = openPaper({ title: sayable(title), made: new Date(report.made) });
  const document = paper.struct('Document');
  paper.addStructure(document);
  for (const page of report.pages) drawPage(paper, document, page, report, artifacts);
  document.end();
  drawMargins(paper, report);
  return finish(paper);
}

function drawPage(
  paper: Paper,
  document: PDFKit.PDFStructureElement,
  page: ReportPage,
  report: ReportModel,
  artifacts: Artifacts,
): void {
  paper.addPage();
  paper.outline.addItem(sayable(page.title));
  const section = paper.struct('Sect');
  document.add(section);
  paper.font('strong').fontSize(19).fillColor(INK.text);
  section.add(
    paper.struct('H1', {}, () => {
      paper.text(sayable(page.title), PAGE.margin, PAGE.top, { width: COLUMN });
    }),
  );
  paper.y += 6;
  if (page.map) drawMap(paper, section, { ...page, map: page.map }, artifacts, report.units);
  for (const paragraph of page.paragraphs) {
    paper.font('text').fontSize(10).fillColor(INK.text);
    section.add(
      paper.struct('P', {}, () => {
        paper.text(sayable(paragraph), PAGE.margin, paper.y, { width: COLUMN, lineGap: 1.5 });
      }),
    );
    paper.y += 6;
  }
  paper.y += 4;
  drawTables(paper, section, page.tables);
  drawList(paper, section, 'What this page does not know', page.doubts, INK.text);
  drawList(paper, section, 'Caution', page.cautions, INK.caution);
  section.end();
}

/** A heading and its points, kept together at least for the first. */
function drawList(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  heading: string,
  points: readonly string[],
  colour: string,
): void {
  if (points.length === 0) return;
  paper.font('text').fontSize(9.5);
  const first = paper.heightOfString(sayable(points[0]!), { width: COLUMN - 14 });
  if (roomLeft(paper) < first + 24) paper.addPage();
  paper.font('strong').fontSize(11).fillColor(colour);
  section.add(
    paper.struct('H2', {}, () => {
      paper.text(heading, PAGE.margin, paper.y, { width: COLUMN });
    }),
  );
  paper.y += 2;
  const list = paper.struct('L');
  section.add(list);
  for (const point of points) {
    paper.font('text').fontSize(9.5).fillColor(INK.text);
    const height = paper.heightOfString(sayable(point), { width: COLUMN - 14, lineGap: 1 });
    if (roomLeft(paper) < Math.min(height, 60)) paper.addPage();
    const item = paper.struct('LI');
    list.add(item);
    const top = paper.y;
    item.add(
      paper.struct('Lbl', {}, () => {
        paper.text('•', PAGE.margin + 2, top, { lineBreak: false });
      }),
    );
    item.add(
      paper.struct('LBody', {}, () => {
        paper.text(sayable(point), PAGE.margin + 14, top, { width: COLUMN - 14, lineGap: 1 });
      }),
    );
    item.end();
    paper.y += 3;
  }
  list.end();
  paper.x = PAGE.margin;
  paper.y += 8;
}

/** Name, mark of an invented example, date and page number on every page; not read aloud with the text. */
function drawMargins(paper: Paper, report: ReportModel): void {
  const { start, count } = paper.bufferedPageRange();
  const { name, invented } = report.property;
  for (let index = 0; index < count; index++) {
    paper.switchToPage(start + index);
    // Writing in the margins must not start a new page.
    paper.page.margins = { top: 0, bottom: 0, left: 0, right: 0 };
    paper.markContent('Artifact', { type: 'Pagination' });
    paper.font('strong').fontSize(9.5).fillColor(INK.text);
    paper.text(sayable(name), PAGE.margin, 38, {
      lineBreak: false,
      width: COLUMN - 150,
      ellipsis: true,
      height: 12,
    });
    if (invented) {
      const words = 'INVENTED EXAMPLE';
      paper.fontSize(8);
      const width = paper.widthOfString(words) + 12;
      const left = PAGE.margin + COLUMN - width;
      paper.rect(left, 36, width, 14).lineWidth(0.9).stroke(INK.caution);
      paper.fillColor(INK.caution).text(words, left + 6, 38.5, { lineBreak: false });
    }
    paper
      .moveTo(PAGE.margin, 56)
      .lineTo(PAGE.margin + COLUMN, 56)
      .lineWidth(0.6)
      .stroke(INK.rule);
    const foot = PAGE.height - 38;
    paper.font('text').fontSize(8).fillColor(INK.quiet);
    paper.text(`Made ${report.made.slice(0, 10)} with Hollowgate`, PAGE.margin, foot, { lineBreak: false });
    paper.text(`Page ${index + 1} of ${count}`, PAGE.margin + COLUMN - 100, foot, {
      width: 100,
      align: 'right',
      lineBreak: false,
    });
    paper.endMarkedContent();
  }
}
