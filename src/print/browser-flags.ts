/** What the list of flags depends on. */
export interface FlagChoices {
  readonly profileFolder: string;
  readonly sandboxed: boolean;
}

/**
 * The browser's flags: ours alone, each with its reason. Neither puppeteer's nor any package's defaults are added.
 */
export function listBrowserFlags({ profileFolder, sandboxed }: FlagChoices): string[] {
  return [
    // A browser without a window, with a profile that nobody else has and that goes when the run ends.
    '--headless',
    `--user-data-dir=${profileFolder}`,

    // Chromium refuses its sandbox to root, and containers often deny it the kernel's means. Everywhere else it stays.
    ...(sandboxed ? [] : ['--no-sandbox']),

    // No network, below everything a page could ask for: no name is found, and every address, that of this machine
    // included, goes to a proxy at a port (9, "discard") where nothing answers.
    '--host-resolver-rules=MAP * ~NOTFOUND',
    '--proxy-server=127.0.0.1:9',
    '--proxy-bypass-list=<-loopback>',

    // The browser's own errands: updates, reports, statistics, sign-in, first-run pages, crash uploads.
    '--disable-background-networking',
    '--disable-breakpad',
    '--disable-client-side-phishing-detection',
    '--disable-component-update',
    '--disable-default-apps',
    '--disable-domain-reliability',
    '--disable-extensions',
    '--disable-sync',
    '--metrics-recording-only',
    '--no-default-browser-check',
    '--no-first-run',
    '--no-pings',
    '--disable-features=AutofillServerCommunication,CertificateTransparencyComponentUpdater,MediaRouter,OptimizationHints,Translate',

    // Nor does it ask the desktop for passwords (a dialogue box would wait for ever).
    '--password-store=basic',
    '--use-mock-keychain',

    // The same drawing on every machine: no graphics card, no hinting by screen resolution, one colour space, one
    // language for what the browser itself writes.
    '--disable-gpu',
    '--disable-software-rasterizer',
    '--font-render-hinting=none',
    '--force-color-profile=srgb',
    '--lang=en-US',

    // Containers give /dev/shm 64 MB, too little for a long note: shared memory goes to our folder instead.
    '--disable-dev-shm-usage',

    // The first page, which puppeteer waits for.
    'about:blank',
  ];
}
