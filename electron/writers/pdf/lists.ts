import { columnOf, INK, MARGIN, type Paper, roomLeft, sayable } from './paper.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

/** Doubts and cautions: a heading and its points. */

const BULLET = 14;
const AFTER_HEADING = 2;

/** Where a list stands on its page. */
export interface Column {
  left: number;
  width: number;
}

export const wholeColumn = (paper: Paper): Column => ({ left: MARGIN, width: columnOf(paper) });

function pointHeight(paper: Paper, point: string, { width }: Column, type: TypeSizes): number {
  paper.font('text').fontSize(type.point);
  return (
    paper.heightOfString(sayable(point), { width: width - BULLET, lineGap: type.pointLeading }) +
    type.afterPoint
  );
}

/** With what is kept free under the list; a line of the face is 1.26 of its size high. */
const headingHeight = (type: TypeSizes): number => 1.3 * type.heading + AFTER_HEADING + type.afterList;

export const listHeight = (
  paper: Paper,
  points: readonly string[],
  column: Column = wholeColumn(paper),
  type: TypeSizes = USUAL,
): number =>
  points.length === 0
    ? 0
    : points.reduce((sum, point) => sum + pointHeight(paper, point, column, type), headingHeight(type));

/** The first points of a list that fit into a height. */
export function pointsThatFit(
  paper: Paper,
  points: readonly string[],
  room: number,
  column: Column = wholeColumn(paper),
  type: TypeSizes = USUAL,
): readonly string[] {
  let left = room - headingHeight(type);
  const fit = points.findIndex((point) => {
    left -= pointHeight(paper, point, column, type);
    return left < 0;
  });
  return fit < 0 ? points : points.slice(0, fit);
}

export function drawList(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  { heading, colour, points }: { heading: string; colour: string; points: readonly string[] },
  column: Column = wholeColumn(paper),
  type: TypeSizes = USUAL,
): void {
  if (points.length === 0) return;
  const { left, width } = column;
  if (roomLeft(paper) < pointHeight(paper, points[0]!, column, type) + headingHeight(type)) paper.addPage();
  paper.font('strong').fontSize(type.heading).fillColor(colour);
  section.add(
    paper.struct('H2', {}, () => {
      paper.text(heading, left, paper.y, { width });
    }),
  );
  paper.y += AFTER_HEADING;
  const list = paper.struct('L');
  section.add(list);
  for (const point of points) {
    const height = pointHeight(paper, point, column, type);
    if (roomLeft(paper) < Math.min(height - type.afterPoint, 60)) paper.addPage();
    paper.font('text').fontSize(type.point).fillColor(INK.text);
    const item = paper.struct('LI');
    list.add(item);
    const top = paper.y;
    item.add(
      paper.struct('Lbl', {}, () => {
        paper.text('•', left + 2, top, { lineBreak: false });
      }),
    );
    item.add(
      paper.struct('LBody', {}, () => {
        paper.text(sayable(point), left + BULLET, top, { width: width - BULLET, lineGap: type.pointLeading });
      }),
    );
    item.end();
    paper.y += type.afterPoint;
  }
  list.end();
  paper.x = MARGIN;
  paper.y += type.afterList;
}
