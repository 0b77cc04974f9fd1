import { accessSync, constants } from 'node:fs';
import { posix, win32 } from 'node:path';

/** Where a Chromium-family browser usually is; any of them opens an address as a plain app window. */
function browserPlaces(platform: NodeJS.Platform, env: NodeJS.ProcessEnv): string[] {
  if (platform === 'win32') {
    const roots = [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA].filter((root) => root);
    const tails = [
      'Google\\Chrome\\Application\\chrome.exe',
      'Microsoft\\Edge\\Application\\msedge.exe',
      'Chromium\\Application\\chrome.exe',
      'BraveSoftware\\Brave-Browser\\Application\\brave.exe',
      'Vivaldi\\Application\\vivaldi.exe',
    ];
    return tails.flatMap((tail) => roots.map((root) => win32.join(root!, tail)));
  }
  if (platform === 'darwin') {
    const apps = ['Google Chrome', 'Chromium', 'Microsoft Edge', 'Brave Browser', 'Vivaldi'];
    const folders = ['/Applications', ...(env.HOME ? [posix.join(env.HOME, 'Applications')] : [])];
    return apps.flatMap((app) =>
      folders.map((folder) => posix.join(folder, `${app}.app`, 'Contents', 'MacOS', app)),
    );
  }
  const names = [
    'chromium',
    'chromium-browser',
    'google-chrome',
    'google-chrome-stable',
    'microsoft-edge',
    'microsoft-edge-stable',
    'brave-browser',
    'vivaldi',
    'vivaldi-stable',
  ];
  const folders = [
    ...(env.PATH ?? '').split(':').filter((folder) => folder.startsWith('/')),
    '/usr/bin',
    '/usr/local/bin',
    '/snap/bin',
    '/opt/google/chrome',
  ];
  return names.flatMap((name) => [...new Set(folders)].map((folder) => posix.join(folder, name)));
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The first browser found, or null. HOLLOWGATE_BROWSER names one outright. */
export function findBrowser(
  platform: NodeJS.Platform = process.platform,
  env: NodeJS.ProcessEnv = process.env,
  runs: (path: string) => boolean = isExecutable,
): string | null {
  if (env.HOLLOWGATE_BROWSER) return runs(env.HOLLOWGATE_BROWSER) ? env.HOLLOWGATE_BROWSER : null;
  return browserPlaces(platform, env).find(runs) ?? null;
}

/**
 * Opens one address as an app window with a profile of its own, so that neither the user's browser nor its
 * extensions see it. The sandbox stays on, except for root, for whom Chromium does not start with it.
 */
export function browserArguments(address: string, profile: string, isRoot: boolean): string[] {
  return [
    `--app=${address}`,
    `--user-data-dir=${profile}`,
    '--no-first-run',
    '--no-default-browser-check',
    '--disable-background-networking',
    // Ends with its window.
    '--disable-background-mode',
    '--disable-component-update',
    '--disable-sync',
    '--disable-extensions',
    '--window-size=1440,900',
    ...(isRoot ? ['--no-sandbox'] : []),
  ];
}

/** Whether this process runs as root, for whom Chromium and Electron refuse their own sandbox. */
export function isRoot(): boolean {
  return process.getuid?.() === 0;
}
