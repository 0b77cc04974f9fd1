import { describe, expect, it } from 'vitest';
import {
  degrees,
  geographer,
  gridCoordinates,
  parsePosition,
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
});
