import { render } from 'solid-js/web';
import { keepOffline } from '#session/appVersion.ts';

const root = document.getElementById('root');
if (!root) throw new Error('The page has no element with the id root.');
render(() => <h1>Lastlook</h1>, root);

if (import.meta.env.PROD) void keepOffline();
