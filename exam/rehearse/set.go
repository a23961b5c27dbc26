package rehearse

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/ownfile"
	"loosebox/ranges"
)

// Set is an exam that a teacher sets: the same horse for everybody, played from the teacher's file.
type Set struct {
	Title    string
	Case     string // by its name
	OwnCase  string // the text of a case of the teacher's own, carried in the file; empty for a built-in one
	Seed     uint64
	Routine  string // empty for that of the case
	Modes    Modes
	Deadline time.Time // zero for none
	Attempts int       // 0 for as many as one likes
	Pass     float64   // percent of the points
	FailAt   []FaultKind
	Shown    MarksShown
	Weights  Weights
	Text     string // of the file
	Digest   string
}

// MarksShown says when a student sees the marks of a set exam.
type MarksShown string

// When marks are shown.
const (
	ShownAtOnce MarksShown = "at once"
	ShownAfter  MarksShown = "after the deadline"
	ShownByHand MarksShown = "by the teacher"
)

// FailKinds are the faults that may fail an exam at once.
func FailKinds() []FaultKind {
	return []FaultKind{FaultSafety, FaultHandOff, FaultMissed, FaultHurried, FaultCount}
}

// SetPattern is a file to copy.
const SetPattern = `# A set exam: one horse for everybody in the class.
set: "Spring exam, group 2"
case: tarn
seed: 41
routine: colic-check
mode: [timed]                    # blind, timed
deadline: 2026-12-04 18:00
attempts: 1
pass: 70                         # percent of the points
fail-at-once: [safety, hand-off] # safety, hand-off, step missed, too soon, count
marks: at once                   # at once, after the deadline, by the teacher
points:                          # what a student can earn; see loosebox marks, score
  answer: 1
  weighty: 3
  wrong: 1        # taken off for each wrong answer
  danger: 3
  order: 5
  hand-off: 5
  last-30-minutes: 1
  gut.sounds: 4                  # each place of one step
`

// ReadSet reads the file of a set exam. Times of the deadline are in the location given. A file that cannot be used gives
// a *FileError that names every line to put right.
func ReadSet(r io.Reader, file string, table *exam.Steps, in *time.Location) (Set, error) {
	e := ownfile.New(file, ownfile.FileKind{
		Noun: "set exam", Pages: "a page of text", Begins: "begins with keys such as set: and case:", Bytes: 300 << 10, Lines: 800, Columns: 400, Flow: 200,
	})
	data, err := ownfile.Read(r, e)
	if err != nil {
		return Set{}, err
	}
	top := ownfile.Parse(e, data)
	if top == nil {
		return Set{}, e.OrNil()
	}
	sum := sha256.Sum256(data)
	f := &setForm{form: &form{FileError: e, table: table}, in: in, s: Set{
		Pass: 70, Shown: ShownAtOnce, Weights: UsualWeights(), Text: string(data), Digest: hex.EncodeToString(sum[:])[:12],
	}}
	for _, pair := range top.Values {
		key, _ := ownfile.TextOf(pair.Key)
		f.key(key, pair)
	}
	if f.s.Title == "" || f.s.Case == "" || f.s.Seed == 0 {
		f.Add(0, "a set exam needs set:, case: and seed:")
	}
	if err := e.OrNil(); err != nil {
		return Set{}, err
	}
	return f.s, nil
}

// CaseOf is the case of the exam: its own, or the one of its name. The error says why it cannot be used.
func (s Set) CaseOf(cases []Case, table *exam.Steps, held *ranges.Table) (Case, error) {
	if s.OwnCase == "" {
		if c, ok := CaseNamed(cases, s.Case); ok {
			return c, nil
		}
		return Case{}, exam.NoSuch("the exam %q is of the case %q, which is not here. The teacher can add it to the file as own-case", s.Title, s.Case)
	}
	c, err := ReadCase(strings.NewReader(s.OwnCase), s.Case+".yaml", table, held)
	if err == nil && c.Name != s.Case {
		err = fmt.Errorf("the exam %q is of the case %q, and its own-case is called %q", s.Title, s.Case, c.Name)
	}
	return c, err
}

// Entries keep the exam in the record of a rehearsal of it.
func (s Set) Entries() []exam.Entry { return packed(factSet, s.Text) }

// SetIn is the set exam that a visit is of; false where it is of none.
func SetIn(v exam.Visit, table *exam.Steps) (Set, bool) {
	text, ok := unpacked(v, factSet)
	if !ok {
		return Set{}, false
	}
	s, err := ReadSet(strings.NewReader(text), "set", table, v.OpenedAt.Location())
	return s, err == nil
}

// Failed lists the faults of a rehearsal that fail the exam at once, in words.
func (s Set) Failed(m Marks) []string {
	var out []string
	for _, f := range m.Faults() {
		if slices.Contains(s.FailAt, f.Kind) {
			words := f.Kind.String()
			if f.Name != "" {
				words += ": " + f.Name
			}
			if !slices.Contains(out, words) {
				out = append(out, words)
			}
		}
	}
	return out
}

// MaySee says that the marks are shown to the student at a time.
func (s Set) MaySee(now time.Time) bool {
	switch s.Shown {
	case ShownByHand:
		return false
	case ShownAfter:
		return !s.Deadline.IsZero() && now.After(s.Deadline)
	case ShownAtOnce:
	}
	return true
}
