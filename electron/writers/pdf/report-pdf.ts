import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../../core/analysis/report.ts';
import { columnOf, finish, INK, MARGIN, openPaper, type Paper, SIZES, sayable } from './paper.ts';
import { type Stills, withRoom } from './stills.ts';
import { drawAnnex, drawPage } from './topic-page.ts';

/**
 * The report as a PDF on letter or A4 paper: one page a topic and an annex for what that page has no room for, bookmarks,
 * an embedded open typeface, and a structure that a screen reader can follow. Made-up properties say so on every page.
 *
 * @param pictures stills from the walk that its pages name, as far as they are at hand
 */
export async function encodePdf(
  report: ReportModel,
  artifacts: Artifacts,
  pictures: Stills = new Map(),
): Promise<Uint8Array> {
  const { name, invented } = report.property;
  const mark = invented && !/invented/i.test(name) ? ' (invented example)' : '';
  const title = `${name}${mark}: habitat scouting report`;
  const paper = openPaper(
    { title: sayable(title), author: sayable(report.consultant), made: new Date(report.made) },
    SIZES[report.paper],
  );
  const document = paper.struct('Document');
  paper.addStructure(document);
  const wanted = report.pages.flatMap((page) => page.pictures ?? []);
  const stills = withRoom(wanted, pictures);
  const rests = report.pages.map((page) => drawPage(paper, document, page, report, artifacts, stills));
  drawAnnex(paper, document, rests);
  document.end();
  drawMargins(paper, report);
  return finish(paper);
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
    paper.text(sayable(name), MARGIN, 38, {
      lineBreak: false,
      width: columnOf(paper) - 150,
      ellipsis: true,
      height: 12,
    });
    if (invented) {
      const words = 'INVENTED EXAMPLE';
      paper.fontSize(8);
      const width = paper.widthOfString(words) + 12;
      const left = MARGIN + columnOf(paper) - width;
      paper.rect(left, 36, width, 14).lineWidth(0.9).stroke(INK.caution);
      paper.fillColor(INK.caution).text(words, left + 6, 38.5, { lineBreak: false });
    }
    paper
      .moveTo(MARGIN, 56)
      .lineTo(MARGIN + columnOf(paper), 56)
      .lineWidth(0.6)
      .stroke(INK.rule);
    const foot = paper.page.height - 38;
    paper.font('text').fontSize(8).fillColor(INK.quiet);
    paper.text(`Made ${report.made.slice(0, 10)} with Hollowgate`, MARGIN, foot, { lineBreak: false });
    paper.text(`Page ${index + 1} of ${count}`, MARGIN + columnOf(paper) - 100, foot, {
      width: 100,
      align: 'right',
      lineBreak: false,
    });
    paper.endMarkedContent();
  }
}
