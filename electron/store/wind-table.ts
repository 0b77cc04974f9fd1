import { deflateSync, inflateSync } from 'node:zlib';
import type { Database } from 'better-sqlite3';
import type { WindRecord } from '../../core/air/types.ts';
import { NO_WIND } from '../readers/missing.ts';
import { readValue, writeValue } from './own-tables.ts';

/** Wind records: five columns of 4 bytes a record, then gusts and then ceilings where told, one after the other, deflated. */

export function writeWind(db: Database, wind: WindRecord): number {
  const columns = [wind.hours, wind.direction, wind.speed, wind.temperature, wind.sky];
  const untold = () => new Float32Array(wind.hours.length).fill(Number.NaN);
  if (wind.gust || wind.ceiling) columns.push(wind.gust ?? untold());
  if (wind.ceiling) columns.push(wind.ceiling);
  const bytes = Buffer.concat(
    columns.map(({ buffer, byteOffset, byteLength }) => new Uint8Array(buffer, byteOffset, byteLength)),
  );
  const { lastInsertRowid } = db
    .prepare('INSERT INTO hollowgate_wind (station, notes, records, data) VALUES (?, ?, ?, ?)')
    .run(wind.station, JSON.stringify(wind.notes), wind.hours.length, deflateSync(bytes));
  return Number(lastInsertRowid);
}

/** Puts one record kept in place of another: what is said of the property's wind goes with it. */
export function putWind(db: Database, before: number | null, id: number | null): void {
  const notesOf = (of: number | null): string[] => (of === null ? [] : (readWind(db, of)?.notes ?? []));
  const old = new Set(notesOf(before));
  const others = (readValue<string[]>(db, 'notes') ?? []).filter((note) => !old.has(note));
  writeValue(db, 'notes', [...others, ...notesOf(id)]);
  const missing = (readValue<string[]>(db, 'missing') ?? []).filter((each) => each !== NO_WIND);
  writeValue(db, 'missing', id === null ? [...missing, NO_WIND] : missing);
  writeValue(db, 'wind', id);
}

export function readWind(db: Database, id: number): WindRecord | null {
  const row = db
    .prepare<[number], { station: string; notes: string; records: number; data: Buffer }>(
      'SELECT station, notes, records, data FROM hollowgate_wind WHERE id = ?',
    )
    .get(id);
  if (!row) return null;
  const bytes = inflateSync(row.data);
  const size = row.records * 4;
  const shared = new SharedArrayBuffer(bytes.length);
  new Uint8Array(shared).set(bytes);
  const floats = (column: number) => new Float32Array(shared, column * size, row.records);
  return {
    station: row.station,
    hours: new Int32Array(shared, 0, row.records),
    direction: floats(1),
    speed: floats(2),
    temperature: floats(3),
    sky: floats(4),
    ...(bytes.length >= 6 * size && size > 0 ? { gust: floats(5) } : {}),
    ...(bytes.length >= 7 * size && size > 0 ? { ceiling: floats(6) } : {}),
    notes: JSON.parse(row.notes) as string[],
  };
}
