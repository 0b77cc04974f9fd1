import type { WindRecord } from '../../core/air/types.ts';

/**
 * Two records as one, sorted by hour: of an hour that both have, that of the second is kept. Its notes say what was
 * joined, and from which stations.
 */
export function joinWind(before: WindRecord, added: WindRecord): WindRecord {
  const again = new Set(added.hours);
  const places = [
    ...Array.from(added.hours, (hour, at) => ({ hour, of: added, at })),
    ...Array.from(before.hours, (hour, at) => ({ hour, of: before, at })).filter(
      ({ hour }) => !again.has(hour),
    ),
  ].sort((a, b) => a.hour - b.hour);
  const column = (name: 'direction' | 'speed' | 'temperature' | 'sky' | 'gust' | 'ceiling') =>
    Float32Array.from(places, ({ of, at }) => of[name]?.[at] ?? Number.NaN);
  const repeated = before.hours.length + added.hours.length - places.length;
  const stations = [...new Set([...before.station.split(' + '), added.station])];
  return {
    station: stations.join(' + '),
    hours: Int32Array.from(places, ({ hour }) => hour),
    direction: column('direction'),
    speed: column('speed'),
    temperature: column('temperature'),
    sky: column('sky'),
    ...(before.gust || added.gust ? { gust: column('gust') } : {}),
    ...(before.ceiling || added.ceiling ? { ceiling: column('ceiling') } : {}),
    notes: [
      ...before.notes,
      ...added.notes,
      `${added.hours.length} hours of ${added.station} join ${before.hours.length} of ${before.station}${repeated > 0 ? `; ${repeated} hours stood in both, and the added ones are kept` : ''}`,
      ...(stations.length > 1
        ? [`Wind of ${stations.length} stations is counted as one: they must lie in like ground`]
        : []),
    ],
  };
}
