import type { Session, WebContents, WebPreferences } from 'electron';
import { isWindowAddress } from './window-scheme.ts';

/** How the window's page is kept from the machine: Electron's security guide, item by item. */
export function webPreferences(preload: string): WebPreferences {
  return {
    preload,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    webviewTag: false,
    navigateOnDragDrop: false,
    // The checker would fetch dictionaries over the network.
    spellcheck: false,
  };
}

/** The page may copy text to the clipboard and go full screen; every other permission is denied. */
const GRANTED = new Set(['clipboard-sanitized-write', 'fullscreen']);

export function limitSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer, details) =>
    answer(GRANTED.has(permission) && isWindowAddress(details.requestingUrl)),
  );
  session.setPermissionCheckHandler((contents, permission) =>
    Boolean(contents && isWindowAddress(contents.getURL()) && GRANTED.has(permission)),
  );
  session.setDevicePermissionHandler(() => false);
  session.on('will-download', (event) => event.preventDefault());
}

/** No page of ours leads anywhere else, opens anything, or embeds anything. */
export function limitContents(contents: WebContents): void {
  contents.on('will-navigate', (event) => {
    if (!isWindowAddress(event.url)) event.preventDefault();
  });
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !isWindowAddress(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}
