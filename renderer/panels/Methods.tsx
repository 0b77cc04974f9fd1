import { reportModel } from '../state/report-model.ts';

/** How a stage is computed, by whose method, and what it is checked against, as the report's methods page says. */
export function Methods({ stage }: { stage: string }) {
  const methods = reportModel.value?.pages.find((page) => page.topic === 'methods');
  const table = methods?.tables.find(({ columns }) => columns[0]?.title === 'Stage');
  const rows = table?.rows.filter(([of]) => of === stage) ?? [];
  if (rows.length === 0) return null;
  return (
    <details class="methods">
      <summary>How it is computed, and what checks it</summary>
      <ul>
        {rows.map(([, method, source, check]) => (
          <li key={method}>
            <p>{method}.</p>
            <p class="source">Source: {source}.</p>
            <p class="source">Check: {check}.</p>
          </li>
        ))}
      </ul>
    </details>
  );
}
