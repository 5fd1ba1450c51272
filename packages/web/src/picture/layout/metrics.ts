/**
 * Widths of the sheet's two typefaces, so that the layout comes out the same in every browser, before the fonts have
 * arrived and without a document. A browser test holds the table against the real fonts.
 */

/** Advances of the characters 32 to 126 of Atkinson Hyperlegible Next at weight 700, thousandths of the size. */
const NEXT_700 = [
  313, 303, 390, 765, 610, 969, 725, 210, 335, 335, 485, 595, 271, 373, 272, 440, 659, 440, 579, 600, 624, 608, 626,
  537, 624, 571, 272, 272, 569, 612, 569, 547, 781, 678, 643, 658, 689, 597, 566, 718, 701, 425, 561, 664, 552, 858,
  717, 747, 629, 757, 650, 610, 607, 686, 644, 886, 685, 650, 618, 340, 440, 344, 582, 400, 288, 552, 596, 510, 596,
  563, 365, 593, 571, 300, 259, 555, 318, 882, 571, 576, 596, 599, 376, 508, 376, 567, 530, 740, 540, 521, 506, 381,
  254, 381, 537,
];

/** Advance of every character of Atkinson Hyperlegible Mono. */
const MONO = 0.632;

const WIDEST_LETTER = 0.9;

/** Width of a line of words, sheet pixels. An upper bound: lighter weights run a little narrower. */
export function wordsWidth(text: string, sizePx: number): number {
  let sum = 0;
  for (const letter of text) {
    const code = letter.charCodeAt(0);
    sum += code >= 32 && code < 127 ? NEXT_700[code - 32]! / 1000 : WIDEST_LETTER;
  }
  return sum * sizePx;
}

/** Width of a figure, sheet pixels. */
export function figureWidth(characters: number, sizePx: number): number {
  return characters * MONO * sizePx;
}

/** Puts each word of a name on its own line. */
export function inShortLines(text: string): string[] {
  return text.split(" ");
}

/** Splits a name into at most two lines of nearly equal width. */
export function inTwoLines(text: string): string[] {
  const words = text.split(" ");
  if (words.length < 2) return [text];
  let best = [text];
  let bestWidth = Number.POSITIVE_INFINITY;
  for (let cut = 1; cut < words.length; cut += 1) {
    const lines = [words.slice(0, cut).join(" "), words.slice(cut).join(" ")];
    const width = Math.max(...lines.map((line) => wordsWidth(line, 1)));
    if (width < bestWidth) {
      best = lines;
      bestWidth = width;
    }
  }
  return best;
}
