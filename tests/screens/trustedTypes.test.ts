import { expect, test } from 'vitest';
import { isOurMarkup, isOurScript } from '#screens/trustedTypes.ts';

test.each([
  '<button type=button class=stretch><span class=digits-type></span></button>',
  '<svg viewBox="0 0 24 24"><path d="M1 1"></path></svg>',
  '<label>Sections of the form</label>',
])('a template may become markup: %s', (html) => {
  expect(isOurMarkup(html)).toBe(true);
});

test.each([
  '<img src=x onerror=alert(1)>',
  '<IMG SRC=x OnError = alert(1)>',
  '<script>1</script>',
  '<iframe srcdoc="x"></iframe>',
  '<a href="javascript:alert(1)">x</a>',
  '<object data=x></object>',
  '<base href=//other>',
  '<style>x</style>',
])('what a template never holds may not: %s', (html) => {
  expect(isOurMarkup(html)).toBe(false);
});

test('only the two workers of the program are run', () => {
  const page = 'http://127.0.0.1:4173/';
  expect(isOurScript('/sw.js', page)).toBe(true);
  expect(isOurScript('/assets/opfsWorker-a1_B-2.js', page)).toBe(true);
  expect(isOurScript('http://127.0.0.1:4173/assets/x.js', page)).toBe(true);
  expect(isOurScript('http://127.0.0.1:9/assets/x.js', page)).toBe(false);
  expect(isOurScript('/assets/../other.js', page)).toBe(false);
  expect(isOurScript('blob:http://127.0.0.1:4173/x', page)).toBe(false);
  expect(isOurScript('data:text/javascript,1', page)).toBe(false);
});
