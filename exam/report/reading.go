package report

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Readings says who read a visit, when and in which words, and how much was saved after the veterinarian signed it off;
// nothing where nobody read it.
func Readings(v exam.Visit) []string {
	var lines []string
	for _, r := range v.Readings {
		end := "."
		if words := notation.CleanNote(r.Words); words != "" {
			end = ": " + quoted(words)
		}
		lines = append(lines, fmt.Sprintf("Read by %s, %s, %s", notation.CleanLine(r.By, 0), r.Role, r.At.Format("2 Jan 2006 15:04"))+end)
	}
	if r, since, ok := v.SignedOff(); ok && since > 0 {
		lines = append(lines, fmt.Sprintf("Not signed off: %d saved after %s read it.", since, notation.CleanLine(r.By, 0)))
	}
	return lines
}
