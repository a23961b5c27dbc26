package intake

import (
	"cmp"

	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
	"loosebox/ranges/csvfile"
)

// FileError says why a file was refused, line by line.
type FileError = csvfile.FileError

// Problem is one of its lines.
type Problem = csvfile.Problem

func newFileError(file string) *FileError {
	return csvfile.New(cmp.Or(notation.CleanLine(file, 0), "the file"), "%s was refused as a whole and nothing was taken from it. Correct it and try again")
}

// orMeant names what was probably meant, as the end of a sentence.
func orMeant(typed string, known []string) string {
	if i := ownfile.Nearest(typed, known); i >= 0 {
		return "; did you mean " + known[i] + "?"
	}
	return ""
}
