import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';

/** The sheet, its type and its inks: Source Sans 3 (SIL Open Font License), embedded. */

const require = createRequire(import.meta.url);
const face = (weight: number): string =>
  require.resolve(`@fontsource/source-sans-3/files/source-sans-3-latin-${weight}-normal.woff`);

export type Paper = PDFKit.PDFDocument;

/** Points; 72 an inch. */
export const MARGIN = 54;
export const TOP = 72;
export const BOTTOM = 60;
/** Width and height of the sheets a report is set on; A4 is 210 by 297 mm (ISO 216). */
export const SIZES = {
  letter: [612, 792],
  A4: [595.28, 841.89],
} as const satisfies Record<string, readonly [number, number]>;

/** Width of the column of text on the page at hand. */
export const columnOf = (paper: Paper): number => paper.page.width - 2 * MARGIN;

export const INK = {
  text: '#1c241f',
  quiet: '#5b635e',
  rule: '#b9bdb6',
  shadeRow: '#f3f2ea',
  accent: '#7a3b12',
  caution: '#8a2a0a',
  cautionPaper: '#fdf1e6',
} as const;

export function openPaper(
  about: { title: string; author: string; made: Date },
  size: readonly [number, number] = SIZES.letter,
): Paper {
  const paper = new PDFDocument({
    size: [...size],
    margins: { left: MARGIN, right: MARGIN, top: TOP, bottom: BOTTOM },
    autoFirstPage: false,
    bufferPages: true,
    pdfVersion: '1.7',
    tagged: true,
    displayTitle: true,
    lang: 'en-US',
    info: {
      Title: about.title,
      ...(about.author ? { Author: about.author } : {}),
      Creator: 'Hollowgate',
      CreationDate: about.made,
      ModDate: about.made,
    },
  });
  paper.registerFont('text', face(400));
  paper.registerFont('strong', face(600));
  return paper;
}

/** Room left on the page under the pen. */
export const roomLeft = (paper: Paper): number => paper.page.height - BOTTOM - paper.y;

/** What the typeface has no sign for is written out. */
const SPELLED: Record<string, string> = {
  '≥': 'at least ',
  '≤': 'at most ',
  '≈': 'about ',
  '→': 'to',
  '←': 'from',
  '−': '-',
  '⁻': '-',
  '′': "'",
  '″': '"',
  '\u202f': ' ',
};

export const sayable = (text: string): string =>
  text.replace(
    /[^\u0020-\u00ff\u2010-\u2026\u0131\u0152\u0153\u20ac\u2122]/g,
    (sign) => SPELLED[sign] ?? (sign === '\n' ? sign : '?'),
  );

/** Collects the finished file. */
export function finish(paper: Paper): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    paper.on('data', (part: Buffer) => parts.push(part));
    paper.on('end', () => resolve(Buffer.concat(parts)));
    paper.on('error', reject);
    paper.end();
  });
}
