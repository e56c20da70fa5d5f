// The files of margent/publishing/marks_data.py: what marks are compared by, all of it, and what else is told of one.

import { given } from "../page/given.js";

/** The rows of all files, in the order of the marks. */
export async function comparedRows(count) {
  const numbers = Array.from({ length: count }, (_, index) => index + 1);
  const files = await Promise.all(numbers.map((number) => given(`marks compared-${number}`, `data/marks/compared-${number}.js`)));
  return files.flat();
}

/** What is told of the mark of that number; `starts` has the first number of each file. */
export async function toldOf(number, starts) {
  const at = starts.findLastIndex((start) => start <= number);
  const file = await given(`marks told-${at + 1}`, `data/marks/told-${at + 1}.js`);
  return file[number - starts[at]];
}
