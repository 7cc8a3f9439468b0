import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import * as paths from './main-paths.ts';
import * as marks from './mark-paths.ts';
import { type Bench, openBench } from './support.ts';
import * as views from './views.ts';
import { manyWindows } from './windows.ts';

/** A recording that no logger wrote. */
const spoiled = 'recordings/B/B1/brass-12_120-1.txt';
/** A recording that was not ended before the next trial. */
const twice = 'recordings/A/A1/brass-12_120-9.txt';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1', 'A/A2', 'B/B1'], async (folder) => {
    await writeFile(join(folder, spoiled), 'battery low\nplease charge\n');
    await marks.writeTwice(join(folder, paths.recordingFile), join(folder, twice));
  });
});
afterAll(() => bench?.close());
afterEach(async () => {
  await bench.closePages();
  expect(bench.troubles()).toEqual([]);
});

it('leads from the grid to a recording and back', () => paths.gridToRecording(bench));
it('says what to do about a recording that cannot be read', () => paths.unreadableRecording(bench, spoiled));
it('works through a recording with its own numbers', () => paths.workThrough(bench));
it('keeps a mark that was moved by keyboard, and takes it back', () => paths.moveByKeyboard(bench));
it('follows a mark that is dragged', () => paths.moveByMouse(bench));
it('keeps the focus, and a move made just before a reload', () => marks.keepsFocusAndMoves(bench));
it('moves marks and the time in view by fingers', () => marks.movesByFingers(bench));
it('lets one of several heatings be chosen', () => marks.choosesTheHeating(bench, twice));
it('is gone through by keyboard alone', () => views.byKeyboardAlone(bench));
it('says in words and dashes what it says in colours', () => views.withoutColour(bench));
it.each(views.places)('has nothing serious for axe on $name, light or dark, and fits a phone', (place) =>
  views.accessible(bench, place),
);
it.each(views.places)('hides groups from a class on $name', (place) => views.hidesGroups(bench, place));
it('holds the choice of conditions and groups in the address', () => paths.chooseInComparison(bench));
it('plans without the server and writes what was seen before', () => paths.changeThePlan(bench));
it('writes no plan over what another page has written meanwhile', () => paths.plansAtOnce(bench));
it('shows how a file is understood before it is taken', () => paths.addRecordings(bench));
it('answers more windows than a browser has connections, and tells all of them', () => manyWindows(bench));
