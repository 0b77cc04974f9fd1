/**
 * The answer that says what a table's columns hold, `role=value` joined by `; `: roles without a value are left out, a
 * value with a semicolon or quote in it stands in double quotes, quotes doubled.
 */
export const columnsAnswer = (picked: readonly (readonly [role: string, value: string])[]): string =>
  picked
    .filter(([, value]) => value !== '')
    .map(([role, value]) => `${role}=${/[;"]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value}`)
    .join('; ');
