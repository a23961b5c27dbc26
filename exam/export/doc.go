// Package export writes a record as a stream and reads it back: JSON lines with every
// log as it was signed, for programs, for another laptop, and for the day on which
// nothing else can be read; CSV for spreadsheets, which is not read back.
//
// It also makes the copy for teaching, from which nobody is to be known again.
package export
