import { closeSync, openSync, readSync, statSync } from 'node:fs';
import type { InputFile } from './inputs.ts';
import { refusal } from './refusal.ts';

/** Seconds from 1904-01-01, where these files count from, to 1970-01-01. */
const EPOCH = 2_082_844_800;
const HEADER = 16;
const MOVIE_HEADER = 32;
/** A well-formed file holds a handful of boxes before its movie header. */
const MOST_BOXES = 1000;

/**
 * When a video or voice clip was begun, ms since 1970 UTC, from the movie header (`moov/mvhd`) of an ISO base media
 * file (ISO/IEC 14496-12, 8.2.2; the MP4, M4A and QuickTime family); null when the recorder left it unset. The
 * clip itself is never read, so its size does not matter.
 *
 * @throws Problem when the file is not of this family
 */
export function clipBegan({ name, path }: InputFile): number | null {
  const handle = openSync(path, 'r');
  try {
    const { size } = statSync(path);
    const bytes = new DataView(new ArrayBuffer(MOVIE_HEADER));
    const read = (at: number, length: number) => readSync(handle, bytes, 0, length, at);
    let at = 0;
    let end = size;
    for (let boxes = 0; boxes < MOST_BOXES && at + 8 <= end && read(at, HEADER) >= 8; boxes++) {
      const type = String.fromCharCode(...[4, 5, 6, 7].map((i) => bytes.getUint8(i)));
      const short = bytes.getUint32(0);
      if (boxes === 0 && !/^[a-z]{4}$/.test(type)) break;
      const long = short === 1;
      const length = long ? Number(bytes.getBigUint64(8)) : short === 0 ? end - at : short;
      const inside = at + (long ? 16 : 8);
      if (length < inside - at || at + length > end) break;
      if (type === 'mvhd') {
        if (read(inside, 20) < 12) break;
        const seconds = bytes.getUint8(0) === 1 ? Number(bytes.getBigUint64(4)) : bytes.getUint32(4);
        return seconds === 0 ? null : (seconds - EPOCH) * 1000;
      }
      if (type === 'moov') {
        end = at + length;
        at = inside;
      } else at += length;
    }
  } finally {
    closeSync(handle);
  }
  throw refusal(`${name} does not say when it was recorded, or is cut short`, {
    file: name,
    fix: 'copy it from the phone or camera again, as MP4, MOV or M4A',
  });
}
