import { gpx, kmlWithFolders } from '@tmcw/togeojson';
import { DOMParser } from '@xmldom/xmldom';
import type { RawFeature, RawVectors } from './raw.ts';
import { refusal } from './refusal.ts';
import { walksOf } from './walk.ts';

/**
 * KML 2.2 placemarks; the innermost named folder becomes the layer.
 * @throws Problem when it is not KML, or holds document types or entities, which no such file needs
 */
export function readKml(name: string, text: string): RawVectors {
  const features: RawFeature[] = [];
  type Node = ReturnType<typeof kmlWithFolders>['children'][number];
  const walk = (nodes: Node[], layer: string | null): void => {
    for (const node of nodes) {
      if (node.type === 'folder')
        walk(node.children, typeof node.meta.name === 'string' ? node.meta.name : layer);
      else if (node.geometry)
        features.push({
          id: node.id === undefined ? null : String(node.id),
          geometry: node.geometry,
          properties: { ...node.properties },
          layer,
        });
    }
  };
  walk(kmlWithFolders(parse(name, text, 'kml')).children, null);
  return { features, notes: [] };
}

/**
 * GPX 1.1 waypoints, routes and tracks. Where neither the file nor a name says what they are, a track is a walk
 * somebody took and a waypoint a note.
 * @throws Problem as `readKml`
 */
export function readGpx(name: string, text: string): RawVectors {
  const features: RawFeature[] = gpx(parse(name, text, 'gpx')).features.flatMap((feature) => {
    const { geometry, properties } = feature;
    if (!geometry) return [];
    const raw = { id: null, geometry, properties: { ...properties }, layer: null };
    if (geometry.type.endsWith('Point')) return [{ ...raw, otherwise: 'note' as const }];
    return properties?._gpxType === 'trk' ? walksOf({ ...raw, otherwise: 'walk' }) : [raw];
  });
  return { features, notes: [] };
}

function parse(name: string, text: string, root: 'kml' | 'gpx') {
  if (/<!(DOCTYPE|ENTITY)/i.test(text))
    throw refusal(`${name} declares its own document type, which is refused for safety`, {
      file: name,
      fix: `export it again as plain ${root.toUpperCase()}`,
    });
  try {
    const document = new DOMParser({
      onError: (level, message) => {
        if (level !== 'warning') throw new Error(message);
      },
    }).parseFromString(text.replace(/^\uFEFF/, ''), 'text/xml');
    const found = document.documentElement?.localName?.toLowerCase();
    if (found !== root) throw new Error(`its outermost element is ${found ?? 'missing'}`);
    return document;
  } catch (error) {
    throw refusal(`${name} is not valid ${root.toUpperCase()}: ${(error as Error).message.split('\n')[0]}`, {
      file: name,
      fix: 'export it again; it may have been cut short',
    });
  }
}
