import type { MenuItemConstructorOptions } from 'electron';
import type { ShelfRow } from '../service/shelf-requests.ts';
import { recentMenu } from './recent.ts';

export interface MenuActions {
  pick(what: 'file' | 'folder'): void;
  openSample(): void;
  open(path: string): void;
  exportAll(): void;
}

/** The native menu: what a person looks for there, and nothing the window does not do. */
export function menuTemplate(
  actions: MenuActions,
  platform: NodeJS.Platform,
  developer: boolean,
  recent: readonly ShelfRow[] = [],
): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin';
  return [
    ...(mac ? [{ role: 'appMenu' } as const] : []),
    {
      label: '&File',
      submenu: [
        { label: 'Open property…', accelerator: 'CmdOrCtrl+O', click: () => actions.pick('file') },
        {
          label: 'Open folder of rasters…',
          accelerator: 'CmdOrCtrl+Shift+O',
          click: () => actions.pick('folder'),
        },
        recentMenu(recent, actions.open),
        { label: 'Open the invented sample', click: () => actions.openSample() },
        { type: 'separator' },
        { label: 'Export everything', accelerator: 'CmdOrCtrl+E', click: () => actions.exportAll() },
        { type: 'separator' },
        { role: mac ? 'close' : 'quit' },
      ],
    },
    { role: 'editMenu' },
    {
      label: '&View',
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { role: 'togglefullscreen' },
        ...(developer ? [{ role: 'toggleDevTools' } as const] : []),
      ],
    },
    { role: 'windowMenu' },
    { role: 'help', submenu: [{ role: 'about' }] },
  ];
}
