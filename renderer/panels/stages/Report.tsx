import type { ReportPage } from '../../../core/analysis/report.ts';
import { exportAll, writing, written } from '../../state/exporting.ts';
import { reportModel } from '../../state/report-model.ts';
import { run } from '../../state/session.ts';
import { ClientViews } from '../ClientViews.tsx';
import { Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

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
  return (
    <section class="export">
      <p class="facts">
        Writes the property file, the layers as GeoTIFF, features, necks, crossings, corridors and stand risks
        as GeoJSON, the plan as GPX, KML and KMZ, the walk list as GPX, the work list as CSV, its days as
        iCalendar, a map sheet of 24 by 36 inches, and the report as PDF and JSON.
      </p>
      <button type="button" class="strong" disabled={writing.value || run.value !== null} onClick={exportAll}>
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
                <WrittenFile key={file} file={file} name={within(folder, file)} />
              ))}
            </ul>
            {window.hollowgate && <p class="facts">Drag one to a mail or a folder to hand it on.</p>}
          </div>
        )}
      </div>
    </section>
  );
}

/** A file that was written; the desktop window lets it be dragged out. */
function WrittenFile({ file, name }: { file: string; name: string }) {
  const desktop = window.hollowgate;
  if (!desktop) return <li>{name}</li>;
  return (
    <li
      draggable
      onDragStart={(event) => {
        event.preventDefault();
        desktop.dragOut(file);
      }}
    >
      {name}
    </li>
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
