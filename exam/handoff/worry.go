package handoff

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
)

// worry puts a remark into a line that is read: what, how much, what is usual, the
// change since last time.
func worry(in Input, r exam.Remark) Worry {
	w := Worry{Remark: r, Name: in.short(r.Step)}
	if r.Site != exam.NoSite {
		w.Name += " " + string(r.Site)
	}
	row, ok := rowOf(in.Table, r)
	if ok {
		w.Change = row.Change
	}
	if r.Combination {
		w.Spoken = together(in, r)
		return w
	}
	w.Spoken = say(w, row, ok, w.Name)
	return w
}

// together is a combination in few words: its sentence where it is short, else
// the steps that make it.
func together(in Input, r exam.Remark) string {
	if text := sentence(r.Why); len(strings.Fields(text)) <= 12 {
		return upper(exam.CleanNote(text)) + "."
	}
	var names []string
	for _, k := range r.Of {
		if name := in.short(k.Step); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return fmt.Sprintf("Together, %s: %s.", r.Level, strings.Join(names, ", "))
}

func say(w Worry, row compare.Row, ok bool, name string) string {
	r := w.Remark
	parts := []string{upper(name) + " " + cut(r.Value, 8)}
	if text := usual(r); text != "" {
		parts = append(parts, "usual "+text)
	}
	if ok {
		if text := changed(row); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ") + "."
}

// joined puts findings of one step that read alike at several sites into one line;
// it returns how many of the worries from one on it holds.
func joined(in Input, worries []Worry) (string, int) {
	first := worries[0]
	n := 1
	for n < len(worries) && alike(first, worries[n]) {
		n++
	}
	if n == 1 {
		return first.Spoken, 1
	}
	sites := make([]string, n)
	for i := range sites {
		sites[i] = string(worries[i].Remark.Site)
	}
	row, ok := rowOf(in.Table, first.Remark)
	name := in.short(first.Remark.Step) + " " + strings.Join(sites[:n-1], ", ") + " and " + sites[n-1]
	return say(first, row, ok, name), n
}

// alike says that two findings differ in their site only.
func alike(a, b Worry) bool {
	if a.Remark.Combination || b.Remark.Combination || a.Remark.Step != b.Remark.Step || a.Remark.Level != b.Remark.Level {
		return false
	}
	strip := func(w Worry) string { return strings.TrimPrefix(w.Spoken, upper(w.Name)) }
	return strip(a) == strip(b)
}

func rowOf(t compare.Table, r exam.Remark) (compare.Row, bool) {
	for _, row := range t.Rows {
		if row.Step == r.Step && row.Site == r.Site && !r.Combination {
			return row, true
		}
	}
	return compare.Row{}, false
}

func usual(r exam.Remark) string {
	low, high := r.Low, r.High
	switch {
	case low != nil && high != nil:
		return exam.FormatNumber(*low, 1) + "-" + exam.FormatNumber(*high, 1)
	case high != nil:
		return "to " + exam.FormatNumber(*high, 1)
	case low != nil:
		return "from " + exam.FormatNumber(*low, 1)
	}
	return ""
}

// changed is the change in as few words as it can be said. One that may be noise is
// not called a change, and not called none: the number of last time is read.
func changed(row compare.Row) string {
	c := row.Change
	if c.By == nil {
		if was, _, ok := strings.Cut(c.Means, " on "); ok && strings.HasPrefix(was, "was ") {
			return cut(was, 6)
		}
		return ""
	}
	decimals := max(row.Decimals, 1)
	if row.Unit == exam.PerMinute {
		decimals = 0 // nobody reads tenths of a beat
	}
	size := exam.FormatNumber(math.Abs(*c.By), decimals)
	switch {
	case size == "0":
		return "as last time"
	case c.Verdict == compare.WithinNoise && len(row.Cells) > 0 && row.Cells[0].Number != nil:
		return "last time " + exam.FormatNumber(*row.Cells[0].Number-*c.By, decimals)
	case *c.By > 0:
		return "up " + size
	default:
		return "down " + size
	}
}

// sentence is the first sentence of a text.
func sentence(text string) string {
	for _, end := range []string{": ", ". ", "; "} {
		if head, _, ok := strings.Cut(text, end); ok {
			text = head
		}
	}
	return text
}

func upper(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
