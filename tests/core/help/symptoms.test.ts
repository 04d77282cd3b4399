import { globSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { markedText, SYMPTOMS, symptomsMarkdown } from '../../../core/help/symptoms.ts';

const readmeRows = (): readonly string[] => {
  const part = readFileSync('README.md', 'utf8').split('\n## When something is wrong\n')[1] ?? '';
  const end = part.indexOf('\n## ');
  return part
    .slice(0, end === -1 ? undefined : end)
    .split('\n')
    .filter((line) => line.startsWith('|'));
};

test('the README has the same table, word for word', () => {
  expect(readmeRows()).toEqual(symptomsMarkdown().split('\n'));
});

test('a symptom stands once, and every row has words on both sides that end as sentences do', () => {
  expect(new Set(SYMPTOMS.map(({ symptom }) => symptom)).size).toBe(SYMPTOMS.length);
  for (const { symptom, remedy } of SYMPTOMS) {
    expect(symptom + remedy).not.toMatch(/[|\n]/u);
    expect(remedy).toMatch(/^[A-Z].*\.$/u);
  }
});

test('what is told as seen is what the screens say', () => {
  const sources = globSync('{core,renderer}/**/*.{ts,tsx}')
    .filter((file) => !file.endsWith('symptoms.ts'))
    .map((file) => readFileSync(file, 'utf8').replaceAll(/\s+/gu, ' '))
    .join('\n');
  const told = SYMPTOMS.flatMap(({ symptom, remedy }) => [symptom, remedy].flatMap(markedText))
    .filter(({ as }) => as === 'shown')
    .flatMap(({ text }) => text.split(/…|, (?=[A-Z])/u).map((part) => part.trim()))
    .filter((part) => part !== '');
  expect(told.length).toBeGreaterThan(15);
  expect(told.filter((part) => !sources.includes(part))).toEqual([]);
});

test('marks are taken off, and put on again they give the text', () => {
  expect(markedText('*Bluetooth is off* or `npm start`.')).toEqual([
    { as: 'shown', text: 'Bluetooth is off' },
    { as: 'plain', text: ' or ' },
    { as: 'typed', text: 'npm start' },
    { as: 'plain', text: '.' },
  ]);
  const mark = { plain: '', shown: '*', typed: '`' };
  for (const { symptom, remedy } of SYMPTOMS)
    for (const text of [symptom, remedy])
      expect(
        markedText(text)
          .map(({ as, text: part }) => mark[as] + part + mark[as])
          .join(''),
      ).toBe(text);
});
