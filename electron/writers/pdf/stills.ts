import type { ReportPicture } from '../../../core/analysis/report.ts';
import { columnOf, INK, MARGIN, type Paper, roomLeft, sayable } from './paper.ts';

/** Pictures of the report as their files are, by id. */
export type Stills = ReadonlyMap<string, { type: string; bytes: Uint8Array }>;

/** All pictures of a report together take no more, so that it can be mailed. */
const MOST_BYTES = 6e6;
const HEIGHT = 170;
const GAP = 12;

/** The stills a report has room for, in its own order. */
export function withRoom(pictures: readonly ReportPicture[], stills: Stills): Stills {
  const kept = new Map<string, { type: string; bytes: Uint8Array }>();
  let left = MOST_BYTES;
  for (const { id } of pictures) {
    const still = stills.get(id);
    if (!still || kept.has(id) || !/^image\/(jpeg|png)$/.test(still.type)) continue;
    if (still.bytes.length > left) continue;
    left -= still.bytes.length;
    kept.set(id, still);
  }
  return kept;
}

/** Two pictures abreast, each with what it shows under it; one that is not at hand is named. */
export function drawStills(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  pictures: readonly ReportPicture[],
  stills: Stills,
): void {
  const wide = (columnOf(paper) - GAP) / 2;
  const drawn = pictures.flatMap(({ id, caption }) => {
    const still = stills.get(id);
    const image = still && readable(paper, still.bytes);
    return image ? [{ caption, image }] : [];
  });
  for (let k = 0; k < drawn.length; k += 2) {
    if (roomLeft(paper) < HEIGHT + 40) paper.addPage();
    const top = paper.y;
    let bottom = top;
    for (const [n, { caption, image }] of drawn.slice(k, k + 2).entries()) {
      const x = MARGIN + n * (wide + GAP);
      section.add(
        paper.struct('Figure', { alt: sayable(caption) }, () => {
          paper.image(image, x, top, { fit: [wide, HEIGHT] });
          paper.font('text').fontSize(8).fillColor(INK.quiet);
          paper.text(sayable(caption), x, top + HEIGHT + 3, { width: wide });
        }),
      );
      bottom = Math.max(bottom, paper.y);
    }
    paper.x = MARGIN;
    paper.y = bottom + 8;
  }
  const missing = pictures.length - drawn.length;
  if (missing === 0) return;
  paper.font('text').fontSize(8).fillColor(INK.quiet);
  section.add(
    paper.struct('P', {}, () => {
      const words = `${missing} more from the walk near here: they are kept in the property.`;
      paper.text(words, MARGIN, paper.y, { width: columnOf(paper) });
    }),
  );
  paper.y += 8;
}

/** A picture this paper can carry; null for one whose file is not whole. */
function readable(paper: Paper, bytes: Uint8Array): PDFKit.Mixins.ImageSrc | null {
  try {
    return (paper as unknown as { openImage(src: Buffer): PDFKit.Mixins.ImageSrc }).openImage(
      Buffer.from(bytes),
    );
  } catch {
    return null;
  }
}
