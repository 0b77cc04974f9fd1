import { useEffect, useRef } from 'preact/hooks';
import type { ShelfRow } from '../../electron/service/contract.ts';
import { opening, openPath } from '../state/opening.ts';
import {
  backUp,
  copy,
  forget,
  found,
  note,
  readShelf,
  restore,
  shelf,
  shelving,
  showArchived,
  smallMaps,
  sought,
} from '../state/shelf.ts';

/** From how many properties on a search is worth its place. */
const SEARCH_FROM = 5;

/** Every property opened on this machine, the newest first. */
export function Shelf() {
  useEffect(() => {
    void readShelf();
  }, []);
  const rows = shelf.value;
  if (!rows || rows.length === 0) return null;
  const archived = rows.filter((row) => row.archived).length;
  return (
    <section class="shelf" aria-labelledby="shelf-title">
      <div class="shelf-head">
        <h3 id="shelf-title">On your shelf</h3>
        {rows.length >= SEARCH_FROM && (
          <label>
            <span class="unseen">Search the shelf</span>
            <input
              type="search"
              placeholder="Name, client or path"
              value={sought.value}
              onInput={(event) => {
                sought.value = event.currentTarget.value;
              }}
            />
          </label>
        )}
        {archived > 0 && (
          <label class="tick">
            <input
              type="checkbox"
              checked={showArchived.value}
              onChange={(event) => {
                showArchived.value = event.currentTarget.checked;
              }}
            />
            Show the {archived} put away
          </label>
        )}
      </div>
      {shelving.value && <p class="busy">{shelving.value}…</p>}
      <ul class="shelf-rows">
        {found.value.map((row) => (
          <Row key={row.id} row={row} />
        ))}
      </ul>
      {found.value.length === 0 && <p>Nothing on the shelf matches.</p>}
      <Keeping />
    </section>
  );
}

function Row({ row }: { row: ShelfRow }) {
  const busy = opening.value !== null || shelving.value !== null;
  const { id, name, client, path, there, archived } = row;
  return (
    <li class={archived ? 'shelf-row archived' : 'shelf-row'}>
      <button
        type="button"
        class="shelf-open"
        disabled={busy || !there}
        onClick={() => openPath(path)}
        title={path}
      >
        <SmallMap row={row} />
        <span class="shelf-name">{name}</span>
        <span class="shelf-when">
          {there ? `Opened ${new Date(row.opened).toLocaleDateString()}` : 'Its file is no longer there'}
          {archived && ', put away'}
        </span>
      </button>
      <details class="shelf-more">
        <summary>
          {client || 'More'}
          <span class="unseen"> about {name}</span>
        </summary>
        <label class="shelf-client">
          Client
          <input
            value={client}
            maxLength={200}
            onChange={(event) => void note(id, { client: event.currentTarget.value.trim() })}
          />
        </label>
        <p class="shelf-path">{path}</p>
        <div class="steps">
          <button
            type="button"
            class="quiet"
            disabled={busy}
            onClick={() => note(id, { archived: !archived })}
          >
            {archived ? 'Take out again' : 'Put away'}
          </button>
          <button type="button" class="quiet" disabled={busy || !there} onClick={() => copy(id, false)}>
            Copy
          </button>
          <button type="button" class="quiet" disabled={busy || !there} onClick={() => copy(id, true)}>
            Copy without names
          </button>
          <button type="button" class="quiet" disabled={busy} onClick={() => forget(id)}>
            Take off the shelf
          </button>
        </div>
        <p class="aside">
          A copy without names leaves out names, free text, file names, positions of photos and notes, and the
          history of edits. The ground itself still shows where it lies. Taking a property off the shelf does
          not delete its file.
        </p>
      </details>
    </li>
  );
}

const SIDE = 100;

function SmallMap({ row: { id, outline } }: { row: ShelfRow }) {
  const url = smallMaps.value[id];
  const ring = (points: [number, number][]) =>
    `M${points.map(([x, y]) => `${x * SIDE} ${y * SIDE}`).join('L')}Z`;
  return (
    <svg class="shelf-map" viewBox={`0 0 ${SIDE} ${SIDE}`} aria-hidden="true">
      {url && <image href={url} width={SIDE} height={SIDE} />}
      <path class="shelf-casing" d={outline.map(ring).join('')} />
      <path class="shelf-line" d={outline.map(ring).join('')} />
    </svg>
  );
}

/** Back-up to one file, and back from it. */
function Keeping() {
  const path = useRef<HTMLInputElement>(null);
  const busy = opening.value !== null || shelving.value !== null;
  return (
    <details class="shelf-keeping">
      <summary>Back up and restore</summary>
      <p>One file holds every property on the shelf as it is now. Keep it on another disk.</p>
      <button type="button" class="quiet" disabled={busy} onClick={backUp}>
        Back up the shelf
      </button>
      <form
        class="path"
        onSubmit={(event) => {
          event.preventDefault();
          const value = path.current?.value.trim() ?? '';
          if (value) void restore(value);
        }}
      >
        <label>
          <span class="unseen">Path of a back-up</span>
          <input ref={path} placeholder="Path of a back-up (.zip)" autocomplete="off" spellcheck={false} />
        </label>
        <button type="submit" class="quiet" disabled={busy}>
          Restore beside what is here
        </button>
      </form>
    </details>
  );
}
