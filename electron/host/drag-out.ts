import { app, type BrowserWindow, ipcMain, type NativeImage } from 'electron';
import { isOurs } from './window-requests.ts';
import { DRAG_CHANNEL } from './wire.ts';

/** Files that were written may be dragged from the window to a mail, a folder or a phone's. */
export interface DragOut {
  /** Only what the program itself wrote since it started can be dragged, whatever the page asks for. */
  allow(files: readonly string[]): Promise<void>;
}

export function takeDrags(window: BrowserWindow): DragOut {
  const icons = new Map<string, NativeImage>();
  ipcMain.on(DRAG_CHANNEL, (event, file: unknown) => {
    const icon = typeof file === 'string' ? icons.get(file) : undefined;
    if (icon && isOurs(event, window)) event.sender.startDrag({ file: file as string, icon });
  });
  return {
    async allow(files) {
      // Asked for beforehand: a drag cannot wait.
      for (const file of files) icons.set(file, await app.getFileIcon(file));
    },
  };
}
