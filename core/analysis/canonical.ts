/**
 * JSON with sorted keys, so that equal parameters give equal text and so equal keys.
 * Undefined members are left out; NaN and infinities are written as text because JSON has none.
 */
export function canonical(value: unknown): string {
  if (typeof value === 'number')
    return Number.isFinite(value) ? String(value) : JSON.stringify(String(value));
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .map(([key, member]) => `${JSON.stringify(key)}:${canonical(member)}`);
  return `{${members.join(',')}}`;
}
