import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportModel, ReportPage, ReportTable, ReportTopic } from '../../../core/analysis/report.ts';
import { drawMap, figureBox } from './map-figure.ts';
import {
  BOTTOM,
  columnOf,
  finish,
  INK,
  MARGIN,
  openPaper,
  type Paper,
  roomLeft,
  SIZES,
  sayable,
  TOP,
} from './paper.ts';
import { shareTables } from './share-tables.ts';
import { drawStills, type Stills, withRoom } from './stills.ts';
import { drawTables } from './table.ts';
import { drawStrip } from './year-strip.ts';

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

/** What did not fit a topic's one page, for the annex. */
interface Rest {
  title: string;
  tables: ReportTable[];
  doubts: readonly string[];
  cautions: readonly string[];
}

/** Pages that go out into the field or are worked through line by line: they hold all of theirs, however long. */
const WHOLE = new Set<ReportTopic>([
  'front',
  'stands',
  'card',
  'season',
  'work',
  'calendar',
  'first',
  'job',
  'walk',
  'glossary',
]);

/** Height of the first page's map, points: findings, jobs and doubts stand on one page with it. */
const FRONT_MAP = 145;
const DOUBTS = 'What this page does not know';
const CAUTIONS = 'Caution';

/** Draws a topic on one page: map, words, doubts and cautions first of all, and the tables that still fit. */
function drawPage(
  paper: Paper,
  document: PDFKit.PDFStructureElement,
  page: ReportPage,
  report: ReportModel,
  artifacts: Artifacts,
  stills: Stills,
): Rest {
  const section = startSection(paper, document, page.title);
  if (page.map) {
    const box = page.topic === 'front' ? figureBox(paper, FRONT_MAP) : undefined;
    drawMap(paper, section, { ...page, map: page.map }, artifacts, report, box);
  }
  if (page.strip) drawStrip(paper, section, page.strip);
  for (const paragraph of page.paragraphs) {
    paper.font('text').fontSize(10).fillColor(INK.text);
    section.add(
      paper.struct('P', {}, () => {
        paper.text(sayable(paragraph), MARGIN, paper.y, { width: columnOf(paper), lineGap: 1.5 });
      }),
    );
    paper.y += 6;
  }
  paper.y += 4;
  if (WHOLE.has(page.topic)) {
    drawTables(paper, section, page.tables);
    drawStills(paper, section, page.pictures ?? [], stills);
    drawList(paper, section, DOUBTS, page.doubts, INK.text);
    drawList(paper, section, CAUTIONS, page.cautions, INK.caution);
    section.end();
    return { title: page.title, tables: [], doubts: [], cautions: [] };
  }
  const spare = roomLeft(paper) - POINTER;
  const cautions = pointsThatFit(paper, page.cautions, spare);
  const afterCautions = spare - listHeight(paper, cautions);
  const doubts = pointsThatFit(paper, page.doubts, afterCautions);
  const { here, later } = shareTables(paper, page.tables, afterCautions - listHeight(paper, doubts));
  drawTables(paper, section, here);
  drawList(paper, section, DOUBTS, doubts, INK.text);
  drawList(paper, section, CAUTIONS, cautions, INK.caution);
  const rest: Rest = {
    title: page.title,
    tables: later,
    doubts: page.doubts.slice(doubts.length),
    cautions: page.cautions.slice(cautions.length),
  };
  if (isMore(rest)) {
    paper.font('text').fontSize(9).fillColor(INK.quiet);
    section.add(
      paper.struct('P', {}, () => {
        const words = `More on this page: see the annex, under ${page.title}.`;
        paper.text(sayable(words), MARGIN, paper.page.height - BOTTOM - 15, {
          width: columnOf(paper),
          lineBreak: false,
        });
      }),
    );
  }
  section.end();
  return rest;
}

const isMore = ({ tables, doubts, cautions }: Rest): boolean =>
  tables.length + doubts.length + cautions.length > 0;

/** What the topics' pages had no room for, whole tables and all, over as many pages as it takes. */
function drawAnnex(paper: Paper, document: PDFKit.PDFStructureElement, rests: readonly Rest[]): void {
  const more = rests.filter(isMore);
  if (more.length === 0) return;
  const section = startSection(paper, document, 'Annex');
  for (const rest of more) {
    if (roomLeft(paper) < 120) paper.addPage();
    paper.font('strong').fontSize(14).fillColor(INK.text);
    section.add(
      paper.struct('H2', {}, () => {
        paper.text(sayable(rest.title), MARGIN, paper.y, { width: columnOf(paper) });
      }),
    );
    paper.y += 6;
    drawTables(paper, section, rest.tables);
    drawList(paper, section, DOUBTS, rest.doubts, INK.text);
    drawList(paper, section, CAUTIONS, rest.cautions, INK.caution);
    paper.y += 8;
  }
  section.end();
}

/** A new page with its bookmark and heading. */
function startSection(
  paper: Paper,
  document: PDFKit.PDFStructureElement,
  title: string,
): PDFKit.PDFStructureElement {
  paper.addPage();
  paper.outline.addItem(sayable(title));
  const section = paper.struct('Sect');
  document.add(section);
  paper.font('strong').fontSize(19).fillColor(INK.text);
  section.add(
    paper.struct('H1', {}, () => {
      paper.text(sayable(title), MARGIN, TOP, { width: columnOf(paper) });
    }),
  );
  paper.y += 6;
  return section;
}

/** Room kept for the line that points to the annex, points. */
const POINTER = 16;
const BULLET = 14;
const HEADING = 30;

function pointHeight(paper: Paper, point: string): number {
  paper.font('text').fontSize(9.5);
  return paper.heightOfString(sayable(point), { width: columnOf(paper) - BULLET, lineGap: 1 }) + 3;
}

const listHeight = (paper: Paper, points: readonly string[]): number =>
  points.length === 0 ? 0 : points.reduce((sum, point) => sum + pointHeight(paper, point), HEADING);

/** The first points of a list that fit into a height. */
function pointsThatFit(paper: Paper, points: readonly string[], room: number): readonly string[] {
  let left = room - HEADING;
  const fit = points.findIndex((point) => {
    left -= pointHeight(paper, point);
    return left < 0;
  });
  return fit < 0 ? points : points.slice(0, fit);
}

/** A heading and its points. */
function drawList(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  heading: string,
  points: readonly string[],
  colour: string,
): void {
  if (points.length === 0) return;
  if (roomLeft(paper) < pointHeight(paper, points[0]!) + HEADING) paper.addPage();
  paper.font('strong').fontSize(11).fillColor(colour);
  section.add(
    paper.struct('H2', {}, () => {
      paper.text(heading, MARGIN, paper.y, { width: columnOf(paper) });
    }),
  );
  paper.y += 2;
  const list = paper.struct('L');
  section.add(list);
  for (const point of points) {
    const height = pointHeight(paper, point);
    if (roomLeft(paper) < Math.min(height - 3, 60)) paper.addPage();
    paper.font('text').fontSize(9.5).fillColor(INK.text);
    const item = paper.struct('LI');
    list.add(item);
    const top = paper.y;
    item.add(
      paper.struct('Lbl', {}, () => {
        paper.text('•', MARGIN + 2, top, { lineBreak: false });
      }),
    );
    item.add(
      paper.struct('LBody', {}, () => {
        paper.text(sayable(point), MARGIN + BULLET, top, { width: columnOf(paper) - BULLET, lineGap: 1 });
      }),
    );
    item.end();
    paper.y += 3;
  }
  list.end();
  paper.x = MARGIN;
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
