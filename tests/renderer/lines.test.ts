import { describe, expect, it } from 'vitest';
import { base64url, lineReader } from '../../renderer/connection/lines.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

describe('newline-delimited JSON', () => {
  const text = '{"type":"a","doing":"Füllung ⛰"}\n\n{"type":"b"}\r\n{"type":"c"}\n';
  const whole = bytes(text);

  it('reads the same values however the stream is cut, inside a character too', () => {
    for (let size = 1; size <= whole.length; size++) {
      const got: unknown[] = [];
      const read = lineReader((value) => got.push(value));
      for (let i = 0; i < whole.length; i += size) read(whole.subarray(i, i + size));
      expect(got).toEqual([{ type: 'a', doing: 'Füllung ⛰' }, { type: 'b' }, { type: 'c' }]);
    }
  });

  it('keeps an unfinished line back', () => {
    const got: unknown[] = [];
    const read = lineReader((value) => got.push(value));
    read(bytes('{"type":"a"}'));
    expect(got).toEqual([]);
    read(bytes('\n'));
    expect(got).toEqual([{ type: 'a' }]);
  });
});

describe('base64url', () => {
  it('is what Node reads and writes under that name (RFC 4648, section 5)', () => {
    for (const text of ['', 'a', '{"name":"import.file","params":{"name":"Höhe?>~.tif"}}', 'ÿþ>>>???'])
      expect(base64url(text)).toBe(Buffer.from(text, 'utf8').toString('base64url'));
  });
});
