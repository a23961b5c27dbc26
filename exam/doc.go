// Package exam is the language of a physical exam of a horse: horses, steps,
// values, entries, visits and routines, and the Store that keeps them.
//
// It touches no terminal, file or clock: times come in as arguments, so that a
// visit read back in ten years folds to exactly what it was. The packages
// beneath it judge, count, compare and report in this language.
package exam
