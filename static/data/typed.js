// What people type as a number.

/** Its digits, with a point: of "12.5", "12,5", "1,250" and "−5"; "" where it is no number. @param {string} text */
export function digitsOf(text) {
  const tidy = text.trim().replace("−", "-"), thousands = /^-?[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(tidy);
  const digits = thousands ? tidy.replaceAll(",", "") : tidy.replace(",", ".");
  return /^-?(\d+\.?\d*|\.\d+)$/.test(digits) ? digits.replace(/\.$/, "") : "";
}

/** The number itself; NaN where it is none. @param {string} text */
export const numberOf = (text) => Number(digitsOf(text) || Number.NaN);
