/** Debian's Chromium, or the one named by CHROMIUM. No browser is ever downloaded by a package. */
export const chromiumPath = process.env.CHROMIUM ?? '/usr/bin/chromium';

export const launchOptions = {
  executablePath: chromiumPath,
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
};
