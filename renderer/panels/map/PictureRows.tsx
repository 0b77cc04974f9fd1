import { pinFile } from '../../state/opening.ts';
import { fitOf, flyToPicture, openPins, pictureChoice, pictures } from '../../state/pictures.ts';
import { chooseOverlay } from '../../state/view.ts';
import { Strength } from '../Strength.tsx';

/** Pinned pictures among the layers, and the way to another. */
export function PictureRows() {
  return (
    <>
      {pictures.value.length > 0 && (
        <ul aria-label="Pinned pictures">
          {pictures.value.map((picture) => {
            const { id, name } = picture;
            const { on, opacity } = pictureChoice(id);
            const lies = fitOf(id)?.fit != null;
            return (
              <li key={id} class={on && lies ? 'painted on' : 'painted'}>
                <label class="layer">
                  <input
                    type="checkbox"
                    checked={on && lies}
                    disabled={!lies}
                    onChange={(event) => chooseOverlay(`picture ${id}`, { on: event.currentTarget.checked })}
                  />
                  <span class="picture-name">{name}</span>
                </label>
                {on && lies && (
                  <Strength
                    of={name}
                    opacity={opacity}
                    change={(opacity) => chooseOverlay(`picture ${id}`, { opacity })}
                  />
                )}
                <div class="steps">
                  <button type="button" class="quiet small" onClick={() => openPins(id)}>
                    Pins<span class="unseen"> of {name}</span>
                  </button>
                  {lies && (
                    <button type="button" class="quiet small" onClick={() => flyToPicture(picture)}>
                      Go there<span class="unseen">: {name}</span>
                    </button>
                  )}
                </div>
              </li>
            );
          })}
        </ul>
      )}
      <label class="pick-picture">
        <input
          type="file"
          class="unseen"
          accept=".jpg,.jpeg,.png,.tif,.tiff"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            event.currentTarget.value = '';
            if (file) void pinFile(file);
          }}
        />
        Pin a scanned plat or photo…
      </label>
    </>
  );
}
