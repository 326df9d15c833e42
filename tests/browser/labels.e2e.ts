import { expect, type Page } from '@playwright/test';
import { labelCodeOf } from '#scan/labelCode.ts';
import { print, read } from './paper.ts';
import { openAtLabel } from './potLabel.ts';
import { afterPrinting, catchPrinting, printLabel } from './printing.ts';
import { button, heading, press, test } from './theatre.ts';

const names = [
  ['Łukaszewicz-Ødegård, Zoë', 'ZZ-TEST-11'],
  ['Παράδειγμα, Ελένη', 'ZZ-TEST-12'],
  ['Проба, Иван', 'ZZ-TEST-13'],
  ['测试, 田中', 'ZZ-TEST-14'],
  ['تجربة, علي', 'ZZ-TEST-15'],
  ['Testcase-Beispielhausen-Longhyphenated, Maximiliana Theodora', 'ZZ-TEST-16'],
] as const;

/** The words of a page, without what pdftotext puts between scripts that run to the left. */
const plain = (text: string): string =>
  text.replace(/[\u200E\u200F\u202A-\u202E\u2066-\u2069]/g, '');

for (const [name, number] of names)
  test(`the label of ${name} is printed in both sizes and read back by two readers`, async ({
    page,
  }) => {
    await catchPrinting(page);
    await openAtLabel(page, name, number);
    await press(page, 'Specimen');
    for (const [size, width, height] of [
      ['50.8 × 25.4 mm', 144, 72],
      ['62 × 29 mm', 175.75, 82.2],
    ] as const) {
      const code = await printLabel(page, size);
      const paper = await print(page);
      expect(paper.pages).toBe(1);
      expect(Math.abs(paper.size.width - width)).toBeLessThan(0.5);
      expect(Math.abs(paper.size.height - height)).toBeLessThan(0.5);
      const words = plain(paper.text);
      for (const part of name.split(/[ ,]+/)) expect(words).toContain(part);
      for (const part of [number, '1990-04-01', 'Appendix', '2026-01-05 10:41', code])
        expect(words).toContain(part);
      for (const dots of [203, 300]) {
        const [picture] = paper.pictures(dots);
        if (!picture) throw new Error('the label is a page');
        expect(await read(picture)).toEqual({ zxing: [code], zbar: [code] });
      }
      await afterPrinting(page);
    }
  });

/** Keys that come so many milliseconds after one another, whatever this machine is busy with. */
async function typeKeys(page: Page, text: string, everyMs: number): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const begun = Date.now() / 1000;
  const keys = [...text].map((key) => ({ key, text: key }));
  const all = [...keys, { key: 'Enter', text: '\r' }].flatMap((key, place) => {
    const timestamp = begun + (place * everyMs) / 1000;
    const { key: name } = key;
    return [
      session.send('Input.dispatchKeyEvent', { type: 'keyDown', timestamp, ...key }),
      session.send('Input.dispatchKeyEvent', { type: 'keyUp', timestamp, key: name }),
    ];
  });
  await Promise.all(all);
  await session.detach();
}

/** A scanner types fast and ends with Enter. */
const scan = (page: Page, text: string): Promise<void> => typeKeys(page, text, 5);

test('a pot is labelled by scanning its label; the label of another case and a wristband of another stop', async ({
  page,
}) => {
  await catchPrinting(page);
  const record = await openAtLabel(page, 'Testcase, Ash', 'ZZ-TEST-17');
  const specimen = record.current.specimens.appendix;
  if (!specimen) throw new Error('the appendix is in its pot');
  await press(page, 'Specimen');
  const confirm = button(page, 'Every field read: the label says this');
  await expect(confirm).toBeVisible(); // the screen listens to a scanner once it is there
  const stop = page.getByRole('dialog', { name: 'Stop: everyone' });
  const goOn = () => press(stop, 'Everyone has stopped');

  await scan(page, labelCodeOf({ ...record.current, id: 'another-case' }, specimen));
  await expect(stop).toContainText('Stop. This label is of another patient.');
  await goOn();
  await scan(page, 'ZZ-TEST-18');
  await expect(stop).toContainText(
    'Stop. The wristband says ZZ-TEST-18. This case is of Testcase, Ash, ZZ-TEST-17.',
  );
  await goOn();
  await expect(confirm).toBeVisible();

  await scan(page, labelCodeOf(record.current, specimen));
  await expect(page.getByText(/^Labelled by N2\./)).toBeVisible();
  await scan(page, labelCodeOf({ ...record.current, id: 'another-case' }, specimen));
  await expect(stop).toContainText('of another patient');
  await goOn();
  const scrubReads = /^N1 read it: it is so/;
  await expect(button(page, scrubReads)).toHaveAttribute('aria-disabled', 'true');
  await scan(page, labelCodeOf(record.current, specimen));
  await press(page, scrubReads);
  await expect(page.getByText('Who takes it, with the form?')).toBeVisible();
});

test('what a scanner types into a field is taken out of it; what a person types stays', async ({
  page,
}) => {
  await openAtLabel(page, 'Testcase, Ash', 'ZZ-TEST-19');
  await press(page, 'Specimen');
  await press(page, 'Type what the label says');
  const field = page.getByRole('textbox', { name: 'Name on the label' });
  await field.tap();
  await typeKeys(page, 'Testcase', 90);
  await expect(field).toHaveValue('Testcase');
  await scan(page, 'ZZ-TEST-19');
  await expect(page.getByText('The wristband is of this patient.')).toBeVisible();
  await expect(field).toHaveValue('Testcase');
});

test('no label can be printed before the specimen is in its pot, and a second one only when it is said', async ({
  page,
}) => {
  await catchPrinting(page);
  await openAtLabel(page, 'Testcase, Ash', 'ZZ-TEST-20');
  await press(page, 'Specimen');
  await expect(button(page, /^Print the label/)).toBeVisible();
  await printLabel(page, '62 × 29 mm');
  await expect(button(page, /^Print the label/)).toHaveCount(0);
  await expect(button(page, /^Print again: the first is destroyed/)).toBeVisible();
  await press(page, 'New specimen');
  await press(page.getByRole('dialog'), /^Something else/);
  await page.getByRole('textbox', { name: 'Name', exact: true }).fill('Node');
  await press(page.getByRole('dialog'), 'Add it');
  await expect(heading(page, /Node/)).toBeVisible();
  await expect(page.locator('.pot-label')).toHaveCount(0);
  await press(page, 'It is out');
  await expect(button(page, /^In its pot/)).toBeVisible();
  await expect(page.locator('.pot-label')).toHaveCount(0);
  await press(page, /^In its pot/);
  await expect(button(page, /^Print the label/)).toBeVisible();
});
