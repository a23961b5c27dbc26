// Package pdf sets a page, and the blank sheet, as a PDF with embedded fonts. The
// same input gives the same bytes. A character that the font lacks is replaced by
// a question mark, named at the foot of the page and returned to the caller, so
// that no empty box is printed for it.
package pdf
