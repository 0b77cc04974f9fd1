/**
 * Rows of comma-separated text (RFC 4180; a semicolon or tab where the first line has more of them). Quotes may hold
 * separators, line ends and doubled quotes.
 */
export function parseCsv(text: string): string[][] {
  const first = text.slice(0, text.indexOf('\n') >>> 0).replace(/"[^"]*"/g, '');
  const separator = [',', ';', '\t'].reduce((best, mark) =>
    first.split(mark).length > first.split(best).length ? mark : best,
  );
  const rows: string[][] = [];
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
      if (row.some((each) => each !== '')) rows.push(row);
      row = [];
    }
    at++;
  }
  if (row.length > 0) rows.push(row);
  return rows;
}
