import { signal } from '@preact/signals';
import type { ReportPage } from '../../../core/analysis/report.ts';
import { reportModel } from '../../state/report-model.ts';
import { run, tell } from '../../state/session.ts';
import { ClientViews } from '../ClientViews.tsx';
import { Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

const written = signal<{ folder: string; files: string[] } | null>(null);
const writing = signal(false);

export function Report() {
  const model = reportModel.value;
  return (
    <>
      <Export />
      <ClientViews />
      {model ? (
        model.pages.map((page) => <ModelPage key={`${page.topic} ${page.title}`} page={page} />)
      ) : (
        <Waiting what="The report's pages" />
      )}
    </>
  );
}

function Export() {
  const folder = written.value?.folder ?? '';
  const write = async () => {
    writing.value = true;
    written.value = await tell('export.all', { folder: null });
    writing.value = false;
  };
  return (
    <section class="export">
      <p class="facts">
        Writes the property file, the layers as GeoTIFF, features, necks, crossings, corridors and stand risks
        as GeoJSON, the plan as GPX, KML and KMZ, the walk list as GPX, the work list as CSV, its days as
        iCalendar, a map sheet of 24 by 36 inches, and the report as PDF and JSON.
      </p>
      <button type="button" class="strong" disabled={writing.value || run.value !== null} onClick={write}>
        {writing.value ? 'Writing…' : run.value ? 'Export when the scout is done' : 'Export everything'}
      </button>
      <div role="status">
        {written.value && (
          <div class="written">
            <p>
              {written.value.files.length} files are in <code>{folder}</code>
            </p>
            <ul>
              {written.value.files.map((file) => (
                <li key={file}>{within(folder, file)}</li>
              ))}
            </ul>
          </div>
        )}
      </div>
    </section>
  );
}

function ModelPage({ page }: { page: ReportPage }) {
  return (
    <Section title={page.title}>
      {page.paragraphs.map((text) => (
        <p key={text} class="para">
          {text}
        </p>
      ))}
      {[...(page.beside ? [page.beside] : []), ...page.tables].map((t) => (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
        <section key={t.caption} class="table-scroll" tabIndex={0} aria-label={t.caption}>
          <table>
            <caption>{t.caption}</caption>
            <thead>
              <tr>
                {t.columns.map((column) => (
                  <th key={column.title} scope="col" class={column.align}>
                    {column.title}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {t.rows.map((row) => (
                <tr key={row.join('|')}>
                  {row.map((cell, i) => (
                    <td key={t.columns[i]?.title} class={t.columns[i]?.align}>
                      {cell}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ))}
      <Lines title="What this page does not know" lines={page.doubts} kind="doubts" />
      <Lines title="Cautions" lines={page.cautions} kind="caution" />
    </Section>
  );
}

/** A file's path from the folder on, which is what tells the files apart. */
const within = (folder: string, file: string): string =>
  file.startsWith(folder) ? file.slice(folder.length).replace(/^[/\\]/, '') : file;
