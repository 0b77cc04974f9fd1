import { describe, expect, it } from 'vitest';
import {
  degrees,
  degreesMinutes,
  geographer,
  gridCoordinates,
  mgrs,
  parsePosition,
  placeText,
  utm,
  utmZone,
} from '../../renderer/words/coordinates.ts';

describe('coordinates', () => {
  it('agrees with PROJ 9.1 on UTM 16N to a centimetre', () => {
    // OSR's CoordinateTransformation from EPSG:4326 to EPSG:32616, PROJ 9.1.1: 571010.7607, 4364110.3189.
    const { toFrame, toGeographic } = geographer({
      proj4: '+proj=utm +zone=16 +datum=WGS84 +units=m +no_defs',
    });
    const [x, y] = toFrame({ longitude: -86.175, latitude: 39.4236 });
    expect(x).toBeCloseTo(571010.7607, 2);
    expect(y).toBeCloseTo(4364110.3189, 2);
    const back = toGeographic(x, y);
    expect(back.longitude).toBeCloseTo(-86.175, 9);
    expect(back.latitude).toBeCloseTo(39.4236, 9);
  });

  it('writes degrees with their hemispheres', () => {
    expect(degrees({ longitude: -86.175, latitude: 39.4236 })).toBe('39.42360° N, 86.17500° W');
    expect(degrees({ longitude: 151.2, latitude: -33.9 })).toBe('33.90000° S, 151.20000° E');
  });

  it('names UTM zones by code, and any other frame by its code', () => {
    expect(utmZone(32616)).toBe('16N');
    expect(utmZone(32733)).toBe('33S');
    expect(utmZone(26917)).toBe('17N');
    expect(utmZone(25832)).toBe('32N');
    expect(utmZone(3857)).toBeNull();
    expect(gridCoordinates(32616, 571_020.7, 4_364_002.2)).toBe('UTM 16N 571020 E 4364002 N');
    expect(gridCoordinates(5070, 12.9, 7.1)).toBe('EPSG:5070 12 E 7 N');
  });

  it('reads typed positions, latitude first, and refuses what is none', () => {
    expect(parsePosition('39.42318, -82.11077')).toEqual({ latitude: 39.42318, longitude: -82.11077 });
    expect(parsePosition('39.42318 N 82.11077 W')).toEqual({ latitude: 39.42318, longitude: -82.11077 });
    expect(parsePosition('33.9° S, 151.2° E')).toEqual({ latitude: -33.9, longitude: 151.2 });
    expect(parsePosition('-82.11077, 139.4')).toEqual({ latitude: -82.11077, longitude: 139.4 });
    for (const text of ['', 'here', '91, 10', '10, 181', '39.4', '39.4, -82.1, 5'])
      expect(parsePosition(text)).toBeNull();
  });

  it('writes degrees with minutes, never sixty of them', () => {
    expect(degreesMinutes({ longitude: -86.175, latitude: 39.4236 })).toBe('39° 25.416′ N, 86° 10.500′ W');
    expect(degreesMinutes({ longitude: 0.05, latitude: -33.99999999 })).toBe('34° 00.000′ S, 0° 03.000′ E');
  });

  it('writes and reads grid references as published examples have them', () => {
    // GeoConvert(1) of GeographicLib: 33°20'N 44°24'E lies in 38SMB4488, whose middle is 33.33424 44.40363.
    expect(mgrs({ longitude: 44.4, latitude: 33 + 20 / 60 })).toMatch(/^38S MB 44\d{3} 88\d{3}$/);
    const middle = parsePosition('38SMB4488')!;
    expect(Math.abs(middle.latitude - 33.33424)).toBeLessThan(1e-5);
    expect(Math.abs(middle.longitude - 44.40363)).toBeLessThan(1e-5);
    // 4QFJ 12345 67890, a place in Honolulu that public converters give as an example: 21.409797, -157.916081.
    const honolulu = parsePosition('4Q FJ 12345 67890')!;
    expect(honolulu.latitude).toBeCloseTo(21.409797, 4);
    expect(honolulu.longitude).toBeCloseTo(-157.916081, 4);
    expect(mgrs(honolulu)).toBe('4Q FJ 12345 67890');
  });

  it('cuts the digits of a grid reference at the metre that UTM names, as the standard has it', () => {
    // PROJ 9.1.1: 571010.7607, 4364110.3189 in zone 16N.
    const place = { longitude: -86.175, latitude: 39.4236 };
    expect(utm(place)).toBe('16N 571010 E 4364110 N');
    expect(mgrs(place)).toBe('16S EJ 71010 64110');
    expect(placeText('mgrs', place)).toBe(mgrs(place));
    for (let n = 0; n < 200; n++) {
      const [longitude, latitude] = [-179 + ((n * 71.3) % 358), -79 + ((n * 37.7) % 162)];
      const cut = /(\d+)[NS] (\d+) E (\d+) N/.exec(utm({ longitude, latitude }))!;
      const grid = mgrs({ longitude, latitude }).split(' ');
      expect([grid[2], grid[3]]).toEqual([cut[2]!.slice(-5), cut[3]!.slice(-5).padStart(5, '0')]);
      const back = parsePosition(grid.join(' '))!;
      expect(Math.abs(back.latitude - latitude)).toBeLessThan(2e-5);
    }
  });

  it('knows the wide zone of south-west Norway, and leaves the poles to degrees', () => {
    // Bergen lies in 32V though its longitude is zone 31's (NGA.STND.0037).
    expect(utm({ longitude: 5.32, latitude: 60.39 })).toMatch(/^32N /);
    expect(mgrs({ longitude: 5.32, latitude: 60.39 })).toMatch(/^32V /);
    expect(mgrs({ longitude: 10, latitude: 88 })).toBe('88.00000° N, 10.00000° E');
  });

  it('reads what it writes, in every style', () => {
    for (const place of [
      { longitude: -86.175, latitude: 39.4236 },
      { longitude: 151.2, latitude: -33.9 },
    ])
      for (const style of ['decimal', 'minutes', 'utm', 'mgrs'] as const) {
        const back = parsePosition(placeText(style, place))!;
        expect(Math.abs(back.latitude - place.latitude), style).toBeLessThan(2e-5);
        expect(Math.abs(back.longitude - place.longitude), style).toBeLessThan(2e-5);
      }
    expect(parsePosition('39° 25\' 24.96" N, 86° 10\' 30" W')!.latitude).toBeCloseTo(39.4236, 9);
    for (const text of ['17S LD 123', '61N 500000 4000000', "39° 61' N, 86° W", '17N 50000 4000000'])
      expect(parsePosition(text), text).toBeNull();
  });
});
