import { startFirefox } from './firefox.ts';
import { testsIn } from './inOther.ts';

testsIn({ name: 'Firefox', start: startFirefox, port: 4373 });
