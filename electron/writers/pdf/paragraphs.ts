import { columnOf, INK, MARGIN, type Paper, sayable } from './paper.ts';
import { type TypeSizes, USUAL } from './type-sizes.ts';

export function drawParagraphs(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  paragraphs: readonly string[],
  type: TypeSizes = USUAL,
): void {
  if (paragraphs.length === 0) return;
  for (const paragraph of paragraphs) {
    paper.font('text').fontSize(type.paragraph).fillColor(INK.text);
    section.add(
      paper.struct('P', {}, () => {
        paper.text(sayable(paragraph), MARGIN, paper.y, { width: columnOf(paper), lineGap: type.leading });
      }),
    );
    paper.y += type.afterParagraph;
  }
  paper.y += type.afterParagraphs;
}

/** The first paragraphs that fit into a height. */
export function paragraphsThatFit(
  paper: Paper,
  paragraphs: readonly string[],
  room: number,
  type: TypeSizes,
): readonly string[] {
  paper.font('text').fontSize(type.paragraph);
  let left = room;
  const fit = paragraphs.findIndex((paragraph) => {
    const set = { width: columnOf(paper), lineGap: type.leading };
    left -= paper.heightOfString(sayable(paragraph), set) + type.afterParagraph;
    return left < 0;
  });
  return fit < 0 ? paragraphs : paragraphs.slice(0, fit);
}
