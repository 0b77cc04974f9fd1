import { useRef } from 'preact/hooks';
import { opening, openPath, openSample, pick, reading, takeIn } from '../state/opening.ts';
import { host, summary } from '../state/session.ts';
import { startOpen } from '../state/view.ts';
import { Asking } from './Asking.tsx';
import { Glyph } from './Glyph.tsx';
import { Shelf } from './Shelf.tsx';

/** The ways in, when no property is open or another is wanted. */
export function Start() {
  const path = useRef<HTMLInputElement>(null);
  const files = useRef<HTMLInputElement>(null);
  const busy = opening.value !== null;
  const close = () => {
    startOpen.value = false;
  };
  return (
    <main class="start" aria-label="Open a property">
      <div class="start-sheet">
        <p class="start-mark">
          <Glyph name="mark" size={44} />
        </p>
        <h2>Open a piece of ground</h2>
        <p class="lead">
          Hollowgate reads the lie of the land and its cover, and says where deer must pass and where the
          night air goes.
        </p>
        {busy && (
          <div class="busy">
            <p>{opening.value}…</p>
            <Asking of={reading} what="Reading files" />
          </div>
        )}
        <Shelf />
        <div class="ways">
          <section class="way">
            <h3>Try the sample</h3>
            <p>
              A farm of a few hundred acres that does not exist: every hill, photo and fence on it is
              invented.
            </p>
            <button type="button" class="strong" disabled={busy} onClick={() => openSample()}>
              Open the sample
            </button>
          </section>
          <section class="way">
            <h3>Drop your files</h3>
            <p>
              Anywhere in this window. An elevation raster (GeoTIFF) is all it takes; a photo, boundary,
              roads, creeks, fences and stands make the answer better.
            </p>
            <input
              ref={files}
              type="file"
              multiple
              class="unseen"
              tabIndex={-1}
              aria-label="Files to open"
              onChange={(event) => {
                const list = [...(event.currentTarget.files ?? [])];
                event.currentTarget.value = '';
                void takeIn(list);
              }}
            />
            <button type="button" class="quiet" disabled={busy} onClick={() => files.current?.click()}>
              Choose files…
            </button>
          </section>
          <section class="way">
            <h3>Open from this machine</h3>
            <p>A property file (.gpkg) or a folder with elevation*.tif in it.</p>
            <form
              class="path"
              onSubmit={(event) => {
                event.preventDefault();
                const value = path.current?.value.trim() ?? '';
                if (value) void openPath(value);
              }}
            >
              <label>
                <span class="unseen">Path of a folder or property file</span>
                <input
                  ref={path}
                  placeholder="Path of a folder or file"
                  autocomplete="off"
                  spellcheck={false}
                />
              </label>
              <button type="submit" class="quiet" disabled={busy}>
                Open
              </button>
            </form>
            {host.value?.canPick && (
              <div class="steps">
                <button type="button" class="quiet" disabled={busy} onClick={() => pick('folder')}>
                  Folder…
                </button>
                <button type="button" class="quiet" disabled={busy} onClick={() => pick('file')}>
                  Property file…
                </button>
              </div>
            )}
          </section>
        </div>
        {summary.value && (
          <button type="button" class="quiet" onClick={close}>
            Back to {summary.value.name}
          </button>
        )}
      </div>
    </main>
  );
}
