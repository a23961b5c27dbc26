package intake

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"loosebox/exam/intake/charset"
	"loosebox/exam/intake/workbook"
	"loosebox/exam/notation"
)

// Doubts are what has to be known before a file can be read at all: which of several character sets it is in, or which of
// several sheets is meant. Value is that of the flag --charset or --sheet; both lists are empty where nothing is in doubt.
func Doubts(file io.Reader) (charsets, sheets []Option, err error) {
	data, err := io.ReadAll(io.LimitReader(file, MaxBytes+1))
	if err != nil || len(data) > MaxBytes {
		return nil, nil, err // who reads the file says that it is too large
	}
	if workbook.Is(data) {
		var choose *workbook.Choose
		if _, err := workbook.Read(data, ""); errors.As(err, &choose) {
			for _, n := range choose.Names {
				sheets = append(sheets, Option{n, n})
			}
		}
		return nil, sheets, nil
	}
	text, err := charset.Decode(bytes.Clone(data), "")
	if err != nil {
		return nil, nil, nil // the reader of the file says it
	}
	for _, r := range text.Doubt {
		charsets = append(charsets, Option{string(r.As), fmt.Sprintf("line %d reads %s, as %s", r.Line, notation.CleanLine(r.Word, 60), r.As)})
	}
	return charsets, nil, nil
}
