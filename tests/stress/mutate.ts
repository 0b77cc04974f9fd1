import { seededRandom } from '../../core/grid/random.ts';

/**
 * A file with a few of its bytes wrong, the same for the same seed: bytes changed, cut out, repeated, or the file
 * cut short; sizes and counts blown up, which is what makes a careless reader ask for all the memory there is.
 */
export function mutateBytes(original: Uint8Array, seed: number): Uint8Array {
  const random = seededRandom(seed);
  const pick = (below: number) => Math.floor(random() * below);
  // Mostly in the header, where the meaning is.
  const place = (length: number) => pick(random() < 0.7 ? Math.min(600, length) : length);
  let bytes = new Uint8Array(original);
  for (let times = 1 + pick(6); times > 0 && bytes.length > 8; times--) {
    const at = place(bytes.length);
    switch (pick(6)) {
      case 0:
      case 1:
        bytes[at] = pick(256);
        break;
      case 2: {
        const huge = [0xffffffff, 0x7fffffff, 0x80000000, 0, 0x00ffffff, 1][pick(6)]!;
        for (let i = 0; i < 4 && at + i < bytes.length; i++) bytes[at + i] = (huge >>> (8 * i)) & 255;
        break;
      }
      case 3: {
        const gone = 1 + pick(40);
        bytes = joined(bytes.subarray(0, at), bytes.subarray(at + gone));
        break;
      }
      case 4: {
        const again = bytes.slice(at, at + 1 + pick(200));
        bytes = joined(bytes.subarray(0, at), again, bytes.subarray(at));
        break;
      }
      default:
        bytes = bytes.slice(0, Math.max(1, place(bytes.length)));
    }
  }
  return bytes;
}

const PIECES = [
  '1e308',
  '-1e308',
  'NaN',
  '-999999999',
  '',
  '""',
  '\0',
  '\uFFFD',
  '😀',
  ',',
  ';',
  '\n',
  '<',
  '</x>',
  '&lt;',
  '&#x0;',
  '[',
  ']',
  '{',
  '}',
  'null',
  'true',
  '0',
  '[[[[[[[[',
  '"type":"Polygon"',
  'x'.repeat(5000),
  '['.repeat(3000),
  '<a>'.repeat(2000),
  '2021-13-45T99:99:99Z',
  '99999999999999999999',
]; // prettier-ignore

/** The same for text: numbers, words and brackets put where they do not belong. */
export function mutateText(original: Uint8Array, seed: number): Uint8Array {
  const random = seededRandom(seed);
  const pick = (below: number) => Math.floor(random() * below);
  let text = new TextDecoder().decode(original);
  for (let times = 1 + pick(5); times > 0; times--) {
    const at = pick(text.length);
    const piece = PIECES[pick(PIECES.length)]!;
    const number = [...text.matchAll(/-?\d+(\.\d+)?/g)];
    switch (pick(4)) {
      case 0:
        text = text.slice(0, at) + piece + text.slice(at);
        break;
      case 1:
        text = text.slice(0, at) + text.slice(at + 1 + pick(60));
        break;
      case 2: {
        const { index, 0: found } = number[pick(number.length)] ?? { index: 0, 0: '' };
        text = text.slice(0, index) + piece + text.slice(index + found.length);
        break;
      }
      default:
        if (random() < 0.2) text = text.slice(0, at);
        else text = text.slice(0, at) + text.slice(at, at + pick(400)) + text.slice(at);
    }
  }
  return new TextEncoder().encode(text);
}

function joined(...parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
