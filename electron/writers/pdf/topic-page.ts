import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportModel, ReportPage, ReportTable, ReportTopic } from '../../../core/analysis/report.ts';
import { type Column, drawList, listHeight, pointsThatFit, wholeColumn } from './lists.ts';
import { drawMap, figureBox } from './map-figure.ts';
import { BOTTOM, columnOf, INK, MARGIN, type Paper, roomLeft, sayable, TOP } from './paper.ts';
import { drawParagraphs, paragraphsThatFit } from './paragraphs.ts';
import { shareTables } from './share-tables.ts';
import { drawStills, type Stills } from './stills.ts';
import { drawTable, drawTables } from './table.ts';
import { layTable } from './table-layout.ts';
import { CLOSE, FRONT, type TypeSizes, USUAL } from './type-sizes.ts';
import { drawStrip } from './year-strip.ts';

/** A topic on its one page, and the annex for what that page has no room for. */

/** What did not fit a topic's one page, for the annex. */
interface Rest {
  title: string;
  paragraphs: readonly string[];
  tables: ReportTable[];
  doubts: readonly string[];
  cautions: readonly string[];
}

/** Pages that go out into the field or are worked through line by line: they hold all of theirs, however long. */
const WHOLE = new Set<ReportTopic>([
  'stands',
  'season',
  'work',
  'calendar',
  'first',
  'job',
  'walk',
  'glossary',
]);

const SIZES_OF: Partial<Record<ReportTopic, TypeSizes>> = { front: FRONT, card: CLOSE };

/** Least height of a map with facts beside it, and the room between the two, points. */
const BESIDE_MAP = 150;
/** Facts higher than this do not stand beside the map, points. */
const MOST_BESIDE = 260;
const GUTTER = 18;

/** Draws a topic on one page: map, words, doubts and cautions first of all, and the tables that still fit. */
export function drawPage(
  paper: Paper,
  document: PDFKit.PDFStructureElement,
  said: ReportPage,
  report: ReportModel,
  artifacts: Artifacts,
  stills: Stills,
): Rest {
  const type = SIZES_OF[said.topic] ?? USUAL;
  const section = startSection(paper, document, said.title, type);
  const page = withRoomBeside(paper, said);
  drawTop(paper, section, page, report, artifacts);
  if (page.strip) drawStrip(paper, section, page.strip);
  if (WHOLE.has(page.topic)) {
    drawParagraphs(paper, section, page.paragraphs);
    drawTables(paper, section, page.tables);
    drawStills(paper, section, page.pictures ?? [], stills);
    drawDoubts(paper, section, page.doubts);
    drawCautions(paper, section, page.cautions);
    section.end();
    return { title: page.title, paragraphs: [], tables: [], doubts: [], cautions: [] };
  }
  const columns = page.beside ? abreast(paper) : oneOverOther(paper);
  const forCautions = listHeight(paper, page.cautions, columns.cautions, type);
  const paragraphs = paragraphsThatFit(
    paper,
    page.paragraphs,
    roomLeft(paper) - type.pointer - forCautions,
    type,
  );
  drawParagraphs(paper, section, paragraphs, type);
  const spare = roomLeft(paper) - type.pointer;
  const cautions = pointsThatFit(paper, page.cautions, spare, columns.cautions, type);
  const cautionsHeight = listHeight(paper, cautions, columns.cautions, type);
  const besides = columns.abreast ? 0 : cautionsHeight;
  const doubts = pointsThatFit(paper, page.doubts, spare - besides, columns.doubts, type);
  const doubtsHeight = listHeight(paper, doubts, columns.doubts, type);
  const lists = columns.abreast ? Math.max(cautionsHeight, doubtsHeight) : cautionsHeight + doubtsHeight;
  const { here, later } = shareTables(paper, page.tables, spare - lists, type);
  drawTables(paper, section, here, type);
  const top = paper.y;
  drawDoubts(paper, section, doubts, columns.doubts, type);
  if (columns.abreast) paper.y = top;
  drawCautions(paper, section, cautions, columns.cautions, type);
  const rest: Rest = {
    title: page.title,
    paragraphs: page.paragraphs.slice(paragraphs.length),
    tables: later,
    doubts: page.doubts.slice(doubts.length),
    cautions: page.cautions.slice(cautions.length),
  };
  if (isMore(rest)) drawPointer(paper, section, page.title, type);
  section.end();
  return rest;
}

/** Where doubts and cautions stand on a page. */
interface Columns {
  doubts: Column;
  cautions: Column;
  abreast: boolean;
}

const oneOverOther = (paper: Paper): Columns => ({
  doubts: wholeColumn(paper),
  cautions: wholeColumn(paper),
  abreast: false,
});

function abreast(paper: Paper): Columns {
  const { left, width } = wholeColumn(paper);
  const half = (width - GUTTER) / 2;
  return {
    doubts: { left, width: half },
    cautions: { left: left + half + GUTTER, width: half },
    abreast: true,
  };
}

/** Facts of many words are a table like the others, so that the map beside them does not grow with them. */
function withRoomBeside(paper: Paper, page: ReportPage): ReportPage {
  const { beside, ...others } = page;
  if (!beside || besideMap(paper, beside).whole <= MOST_BESIDE) return page;
  return { ...others, tables: [beside, ...page.tables] };
}

function besideMap(paper: Paper, facts: ReportTable) {
  const { left, width } = abreast(paper).cautions;
  return layTable(paper, facts, left, width, CLOSE);
}

/** The map over the whole column, or with a table of short facts beside it, as high as that needs. */
function drawTop(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  page: ReportPage,
  report: ReportModel,
  artifacts: Artifacts,
): void {
  const { map, beside } = page;
  if (!map) return;
  const figure = { ...page, map };
  if (!beside) {
    drawMap(paper, section, figure, artifacts, report);
    return;
  }
  const { left, width } = abreast(paper).doubts;
  const facts = besideMap(paper, beside);
  const box = figureBox(paper, Math.max(BESIDE_MAP, facts.whole));
  const top = paper.y;
  drawMap(
    paper,
    section,
    figure,
    artifacts,
    report,
    { ...box, width: left + width - box.x },
    { magnified: 1 },
    CLOSE,
  );
  const below = paper.y;
  paper.y = top;
  drawTable(paper, section, facts);
  paper.x = left;
  paper.y = below;
}

const drawDoubts = (
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  points: readonly string[],
  column?: Column,
  type?: TypeSizes,
): void =>
  drawList(
    paper,
    section,
    { heading: 'What this page does not know', colour: INK.text, points },
    column,
    type,
  );

const drawCautions = (
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  points: readonly string[],
  column?: Column,
  type?: TypeSizes,
): void => drawList(paper, section, { heading: 'Caution', colour: INK.caution, points }, column, type);

/** At the foot of a page that had no room for all of its own. */
function drawPointer(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  title: string,
  type: TypeSizes,
): void {
  // Writing near the foot must not start a new page.
  paper.page.margins.bottom = 0;
  paper.font('text').fontSize(type.point).fillColor(INK.quiet);
  section.add(
    paper.struct('P', {}, () => {
      const words = `More on this page: see the annex, under ${title}.`;
      paper.text(sayable(words), MARGIN, paper.page.height - BOTTOM + 1 - type.pointer, {
        width: columnOf(paper),
        lineBreak: false,
      });
    }),
  );
}

const isMore = ({ paragraphs, tables, doubts, cautions }: Rest): boolean =>
  paragraphs.length + tables.length + doubts.length + cautions.length > 0;

/** What the topics' pages had no room for, whole tables and all, over as many pages as it takes. */
export function drawAnnex(paper: Paper, document: PDFKit.PDFStructureElement, rests: readonly Rest[]): void {
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
    drawParagraphs(paper, section, rest.paragraphs);
    drawTables(paper, section, rest.tables);
    drawDoubts(paper, section, rest.doubts);
    drawCautions(paper, section, rest.cautions);
    paper.y += 8;
  }
  section.end();
}

/** A new page with its bookmark and heading. */
function startSection(
  paper: Paper,
  document: PDFKit.PDFStructureElement,
  title: string,
  type: TypeSizes = USUAL,
): PDFKit.PDFStructureElement {
  paper.addPage();
  paper.outline.addItem(sayable(title));
  const section = paper.struct('Sect');
  document.add(section);
  paper.font('strong').fontSize(type.title).fillColor(INK.text);
  section.add(
    paper.struct('H1', {}, () => {
      paper.text(sayable(title), MARGIN, TOP, { width: columnOf(paper) });
    }),
  );
  paper.y += 6;
  return section;
}
