import { testsIn } from './inOther.ts';
import { startWebKit } from './webkit.ts';

testsIn({ name: 'WebKit', start: startWebKit, port: 4374 });
