import { dismiss, troubles } from '../state/session.ts';
import { sentence } from '../words/sentences.ts';
import { Glyph } from './Glyph.tsx';

/** What went wrong, in plain words, until it is put away. */
export function Troubles() {
  return (
    <div class="troubles" role="alert">
      {troubles.value.map(({ id, trouble }) => (
        <section key={id} class={`trouble ${trouble.kind}`} aria-label="Trouble">
          <div>
            {trouble.file && <p class="trouble-file">{trouble.file}</p>}
            <p class="trouble-message">{sentence(trouble.message)}</p>
            {trouble.fix && <p class="trouble-fix">{sentence(trouble.fix)}</p>}
          </div>
          <button type="button" class="quiet icon" onClick={() => dismiss(id)}>
            <Glyph name="close" size={18} />
            <span class="unseen">Put away: {trouble.message}</span>
          </button>
        </section>
      ))}
    </div>
  );
}
