/**
 * Rows of comma-separated text (RFC 4180; a semicolon or tab where the first line has more of them). Quotes may hold
 * separators, line ends and doubled quotes.
 */
export const parseCsv = (text: string): string[][] => parseCsvRows(text).map(({ cells }) => cells);

export interface CsvRow {
  /** Line of the text it begins on, from 1. */
  line: number;
  cells: string[];
}

/** The same with the lines they stand on; rows without content are left out. */
export function parseCsvRows(text: string): CsvRow[] {
  const first = text.slice(0, text.indexOf('\n') >>> 0).replace(/"[^"]*"/g, '');
  const separator = [',', ';', '\t'].reduce((best, mark) =>
    first.split(mark).length > first.split(best).length ? mark : best,
  );
  const rows: CsvRow[] = [];
  let [line, start] = [1, 0];
  let row: string[] = [];
  let at = text.startsWith('\uFEFF') ? 1 : 0;
  while (at < text.length) {
    let field: string;
    if (text[at] === '"') {
      let end = at + 1;
      while (end < text.length && (text[end] !== '"' || text[end + 1] === '"'))
        end += text[end] === '"' ? 2 : 1;
      field = text.slice(at + 1, end).replaceAll('""', '"');
      at = end + 1;
    } else {
      let end = at;
      while (end < text.length && text[end] !== separator && text[end] !== '\n') end++;
      field = text.slice(at, end).trim();
      at = end;
    }
    row.push(field);
    if (text[at] === '\r') at++;
    if (at >= text.length || text[at] === '\n') {
      if (row.some((each) => each !== '')) rows.push({ line, cells: row });
      row = [];
      line += linesIn(text, start, at + 1);
      start = at + 1;
    }
    at++;
  }
  if (row.length > 0) rows.push({ line, cells: row });
  return rows;
}

/** How many line ends lie between two places of a text. */
function linesIn(text: string, from: number, to: number): number {
  let count = 0;
  for (let at = text.indexOf('\n', from); at >= 0 && at < to; at = text.indexOf('\n', at + 1)) count++;
  return count;
}
