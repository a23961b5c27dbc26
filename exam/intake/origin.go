package intake

import (
	"crypto/sha256"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// ImportedFrom is where an imported visit came from, as its opening says it: the file with a digest of its bytes, the line in
// it, and when and by whom it was imported.
type ImportedFrom struct {
	File   string
	Line   int       // counted from 1
	Digest string    // first half of the SHA-256 of the file's bytes, in hex
	At     time.Time // when it was imported; zero where that was not kept
	By     string    // who imported it; empty where that was not kept
}

// maxFileName and maxTaker keep an origin within the length of a line.
const (
	maxFileName = 60
	maxTaker    = 40
)

// String is the origin as Opening.Source holds it: "yard.csv line 7, imported 2026-03-01T09:00:00Z by Ann Lee (SHA-256
// 0123…)".
func (o ImportedFrom) String() string {
	text := fmt.Sprintf("%s line %d", cutName(o.File, maxFileName), o.Line)
	if !o.At.IsZero() {
		text += ", imported " + o.At.Format(time.RFC3339)
		if o.By != "" {
			text += " by " + unmarked(notation.CleanLine(o.By, maxTaker))
		}
	}
	return text + " (SHA-256 " + o.Digest + ")"
}

// unmarked is a name without what could be taken for another part of an origin.
func unmarked(name string) string {
	return strings.NewReplacer("(", "[", ")", "]", " line ", " line-").Replace(name)
}

// cutName keeps the end of a long path, which says most.
func cutName(name string, most int) string {
	name = unmarked(notation.CleanLine(name, 0))
	if runes := []rune(name); len(runes) > most {
		return "…" + string(runes[len(runes)-most+1:])
	}
	return name
}

// Words say where a visit came from, for a person: "imported 1 Mar 2026 09:00 by Ann Lee, from yard.csv line 7".
func (o ImportedFrom) Words() string {
	text := "imported"
	if !o.At.IsZero() {
		text += " " + o.At.Format("2 Jan 2006 15:04")
	}
	if o.By != "" {
		text += " by " + o.By
	}
	if text += ", from " + o.File; o.Line > 0 {
		text += fmt.Sprintf(" line %d", o.Line)
	}
	return text
}

var (
	originForm = regexp.MustCompile(`^(.+?) line (\d+)(?:, imported (\S+)(?: by (.+))?)? \(SHA-256 ([0-9a-f]+)\)$`)
	oldOrigin  = regexp.MustCompile(`^(.+) \(SHA-256 ([0-9a-f]+)\)$`)
)

// ReadOrigin reads the source of a visit; false for a visit that was not imported from a spreadsheet.
func ReadOrigin(source string) (ImportedFrom, bool) {
	m := originForm.FindStringSubmatch(source)
	if m == nil {
		if m = oldOrigin.FindStringSubmatch(source); m == nil {
			return ImportedFrom{}, false
		}
		return ImportedFrom{File: m[1], Digest: m[2]}, true
	}
	line, _ := strconv.Atoi(m[2])
	o := ImportedFrom{File: m[1], Line: line, By: m[4], Digest: m[5]}
	if m[3] != "" {
		at, err := time.Parse(time.RFC3339, m[3])
		if err != nil {
			return ImportedFrom{}, false
		}
		o.At = at
	}
	return o, true
}

// Number names one import: the day and the first digits of what it was. Two imports of one file have two numbers.
func (o ImportedFrom) Number() string {
	sum := sha256.Sum256([]byte(o.Digest + o.At.UTC().Format(time.RFC3339)))
	return fmt.Sprintf("%s-%x", o.At.Format("20060102"), sum[:3])
}
