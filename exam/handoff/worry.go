package handoff

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
)

// worry puts a remark into a line that is read: what, how much, what is usual, the
// change since last time. The number of a vital sign was read just before.
func worry(in Input, r exam.Remark) Worry {
	w := Worry{Remark: r, Name: in.place(exam.Key{Step: r.Step, Site: r.Site})}
	row, ok := rowOf(in.Table, r)
	if ok {
		w.Change = row.Change
	}
	if r.Injection > 0 {
		w.Spoken = cut(notation.Capital(r.Value)+": "+r.Why, 45) + "."
		return w
	}
	if r.Combination {
		w.Spoken = in.together(r)
		return w
	}
	w.Spoken = in.say(r, row, ok, w.Name)
	return w
}

// together is a combination by what it is made of, each with its number. One of a
// single step that stands out by itself is read as that; why is left to the file.
func (in Input) together(r exam.Remark) string {
	if line, ok := in.alone(r); ok {
		return line
	}
	var parts []string
	for i, k := range r.Of {
		text := in.part(k)
		if text == "" || i+1 < len(r.Of) && in.part(r.Of[i+1]) == text {
			continue // the last of its like speaks for all
		}
		parts = append(parts, text)
	}
	if len(parts) > mostParts {
		parts = append(parts[:mostParts], fmt.Sprintf("%d more", len(parts)-mostParts))
	}
	if len(parts) == 0 {
		what, _, _ := strings.Cut(sentence(r.Why), ": look at") // that is for who examines, not for who listens
		return notation.Capital(cut(what, mostWhy)) + "."
	}
	return "Together: " + listed(parts) + "."
}

// mostWhy holds the longest sentence about what was not looked at whole; mostParts is how many findings of a combination are named.
const (
	mostWhy   = 20
	mostParts = 4
)

// part is one finding of a combination in few words: "heart rate 64", "gum colour
// pale"; signs that are sentences of their own stand alone.
func (in Input) part(k exam.Key) string {
	text := in.answers(k)
	switch {
	case text == "":
		return ""
	case k.Step == "pain.signs" || k.Step == "demeanour":
		return text
	}
	return in.name(k.Step) + " " + strings.TrimSuffix(text, " a minute")
}

// alone is the line of the finding that a combination is made of, where that is one
// step which stands out by itself.
func (in Input) alone(r exam.Remark) (string, bool) {
	for _, k := range r.Of {
		if k.Step != r.Of[0].Step {
			return "", false
		}
	}
	for _, single := range in.Verdict.Remarks {
		if len(r.Of) > 0 && !single.Combination && single.Step == r.Of[0].Step && single.Site == r.Of[0].Site {
			row, ok := rowOf(in.Table, single)
			return in.say(single, row, ok, in.place(r.Of[0])), true
		}
	}
	return "", false
}

// answers is the value at a place as it is read; empty where there is none.
func (in Input) answers(k exam.Key) string {
	step, known := in.Steps.ByID(k.Step)
	if f, ok := in.Visit.Finding(k); known && ok && f.Done() {
		return aloud(step, f.Value)
	}
	return ""
}

func (in Input) say(r exam.Remark, row compare.StepRow, ok bool, name string) string {
	value := in.answers(exam.Key{Step: r.Step, Site: r.Site})
	lead := notation.Capital(name) + " " + value
	if value == "" {
		lead = notation.Capital(name) + " " + cut(r.Value, 8)
	}
	if step, known := in.Steps.ByID(r.Step); known && step.Kind == exam.KindEvent {
		late, _, _ := strings.Cut(lower(sentence(r.Why)), ", the veterinarian")
		return notation.Capital(name) + ": " + cut(hours.ReplaceAllString(late, "$1 hours"), 16) + "."
	}
	var more []string
	if text := notation.Ends(r.Low, r.High, 1); text != "" {
		more = append(more, "usual "+text)
	}
	if text := in.changed(row); ok && text != "" {
		more = append(more, text)
	}
	if len(more) > 0 && slices.Contains(numbered(), r.Step) {
		return notation.Capital(name) + ": " + strings.Join(more, ", ") + "." // its number was just read
	}
	return strings.Join(append([]string{lead}, more...), ", ") + "."
}

// numbered are the vital signs that are one number.
func numbered() []exam.StepID {
	return []exam.StepID{"temp.rectal", "heart.rate", "breath.rate", "gum.refill", "weight.body"}
}

// hours finds a time span that is written in short: "4 h".
var hours = regexp.MustCompile(`(\d+) h\b`)

// joined puts findings of one step that read alike at several sites into one line;
// it returns how many of the worries from one on it holds.
func joined(in Input, worries []Worry) (string, int) {
	first := worries[0]
	n := 1
	for n < len(worries) && sameButSite(first, worries[n]) {
		n++
	}
	if n == 1 {
		return first.Spoken, 1
	}
	sites := make([]string, n)
	for i := range sites {
		sites[i] = worries[i].Remark.Site.String()
	}
	row, ok := rowOf(in.Table, first.Remark)
	return in.say(first.Remark, row, ok, in.name(first.Remark.Step)+" "+listed(sites)), n
}

// sameButSite says that two findings differ in their site only.
func sameButSite(a, b Worry) bool {
	if a.Remark.Combination || b.Remark.Combination || a.Remark.Injection+b.Remark.Injection > 0 || a.Remark.Step != b.Remark.Step || a.Remark.Level != b.Remark.Level {
		return false
	}
	strip := func(w Worry) string { return strings.TrimPrefix(w.Spoken, notation.Capital(w.Name)) }
	return strip(a) == strip(b)
}

func rowOf(t compare.Table, r exam.Remark) (compare.StepRow, bool) {
	for _, row := range t.Rows {
		if row.Step == r.Step && row.Site == r.Site && !r.Combination {
			return row, true
		}
	}
	return compare.StepRow{}, false
}

// changed is the change in as few words as it can be said. One that may be noise is
// not called a change, and not called none: the number of last time is read.
func (in Input) changed(row compare.StepRow) string {
	c := row.Change
	if c.By == nil || strings.HasPrefix(c.Means, "was ") {
		return in.was(row)
	}
	decimals := max(row.Decimals, 1)
	switch row.Unit {
	case notation.PerMinute, notation.Kilograms, notation.Pounds:
		decimals = 0 // nobody reads tenths of a beat
	default:
	}
	size := notation.FormatNumber(math.Abs(*c.By), decimals)
	switch {
	case size == "0":
		return "as last time"
	case c.Verdict == compare.WithinNoise && len(row.Cells) > 0 && row.Cells[0].Number != nil:
		return "last time " + notation.FormatNumber(*row.Cells[0].Number-*c.By, decimals)
	case *c.By > 0:
		return "up " + size + in.since(c)
	default:
		return "down " + size + in.since(c)
	}
}

// was is the answer in words of last time, where it was another.
func (in Input) was(row compare.StepRow) string {
	if !strings.HasPrefix(row.Change.Means, "was ") {
		return ""
	}
	step, known := in.Steps.ByID(row.Step)
	for _, v := range in.Earlier {
		f, ok := v.Finding(exam.Key{Step: row.Step, Site: row.Site})
		if known && ok && f.Done() && v.OpenedAt.Equal(row.Change.Since) {
			return "last visit " + cut(aloud(step, f.Value), 6)
		}
	}
	return ""
}

// since says when the last number was taken where that is not long ago.
func (in Input) since(c compare.Change) string {
	switch day := notation.SayDay(c.Since, in.Now); day {
	case "today":
		return " since " + c.Since.In(in.Now.Location()).Format("15:04")
	default:
		return " since " + day
	}
}

// sentence is the first sentence of a text.
func sentence(text string) string {
	head, _, _ := strings.Cut(text, ". ")
	return strings.TrimSuffix(head, ".")
}

func lower(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToLower(text[:1]) + text[1:]
}
