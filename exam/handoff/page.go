package handoff

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/ranges"
)

// Input is what a page is made of.
type Input struct {
	Visit   exam.Visit
	Earlier []exam.Visit // newest first
	Verdict judge.Verdict
	Table   compare.Table // of this visit, then earlier ones
	Left    []exam.Key    // places of the routine not answered yet
	Steps   *exam.Steps
	Asked   string // what is asked; empty for the usual question
	By      string // who reads; empty for who opened the visit
	Now     time.Time
}

// Worry is one finding that stands out, as it is read and as it is written.
type Worry struct {
	Remark exam.Remark
	Name   string
	Spoken string
	Change compare.Change // since the visit before
	Read   bool           // it is among the lines that are read
}

// Section is one part of what is read.
type Section struct {
	Name  string
	Lines []string
}

// Names of the sections, in order.
const (
	Situation  = "Situation"
	Background = "Background"
	Assessment = "What I measured, and what worries me"
	Request    = "What I ask"
)

// Page is a hand-off.
type Page struct {
	Visit    exam.Visit
	By       string
	At       time.Time
	Level    exam.Level
	Sections []Section // what is read, in SBAR order
	Words    int       // that reading takes
	Worries  []Worry   // every finding out of range, the highest level first
	More     int       // of them that are not read
	NotDone  []exam.Finding
	Left     []exam.Key
	Subject  []string // S: the owner's words
	Object   []string // O: what was found
	// HandOffs are those already written down, the newest last.
	HandOffs []exam.HandOff
}

// Seconds is about how long reading takes.
func (p Page) Seconds() float64 { return float64(p.Words) / PerMinute * 60 }

// Asks is what is asked, as one line.
func (p Page) Asks() string {
	for _, s := range p.Sections {
		if s.Name == Request {
			return strings.Join(s.Lines, " ")
		}
	}
	return ""
}

// ForTheVet stands where assessment and plan would.
const ForTheVet = "left empty: for the veterinarian"

// Make makes the page. What is read holds to MostWords: the most pressing first,
// and how many more there are on the page.
func Make(in Input) Page {
	v := in.Visit
	p := Page{
		Visit: v, By: cmp.Or(in.By, v.By), At: in.Now, Level: in.Verdict.Level, Left: in.Left, HandOffs: v.HandOffs,
		Subject: subject(v), Object: object(in),
	}
	for _, f := range v.Findings {
		if !f.Done() {
			p.NotDone = append(p.NotDone, f)
		}
	}
	for _, r := range in.Verdict.Remarks {
		p.Worries = append(p.Worries, worry(in, r))
	}
	p.read(in)
	return p
}

// read fills the sections: first what must be read, then as much of the rest as
// there are words for.
func (p *Page) read(in Input) {
	situation, request := in.situation(p.By), in.request()
	left := MostWords - count(situation) - count(request) - SpokenWords(more(len(p.Worries), p.Worries))
	take := func(line string) bool {
		n := SpokenWords(line)
		if n > left {
			return false
		}
		left -= n
		return true
	}
	// What is for the vet, then what was not done, then the rest: a finding that
	// does not fit ends the list, so that nothing is read before what is worse.
	measured, next, full := p.readWorries(in, 0, ranges.LevelTell, take)
	var notDone, background []string
	for _, line := range p.notDoneLines(in) {
		if take(line) {
			notDone = append(notDone, line)
		}
	}
	if !full {
		var rest []string
		rest, next, _ = p.readWorries(in, next, ranges.LevelNote, take)
		measured = append(measured, rest...)
	}
	for _, line := range in.background() {
		if take(line) {
			background = append(background, line)
		}
	}
	if p.More = len(p.Worries) - next; p.More > 0 {
		measured = append(measured, more(p.More, p.Worries))
	}
	switch {
	case len(p.Worries) > 0:
	case len(in.Visit.Findings) == len(p.NotDone):
		measured = append(measured, "Nothing is measured yet.")
	default:
		measured = append(measured, "Nothing is out of range among what was measured.")
	}
	p.Sections = []Section{{Situation, situation}, {Background, background}, {Assessment, append(measured, notDone...)}, {Request, request}}
	for _, s := range p.Sections {
		p.Words += count(s.Lines)
	}
}

// readWorries reads findings from one on, as long as they are of the level or
// above and there are words. It returns the lines, where it came to, and whether
// the words ran out.
func (p *Page) readWorries(in Input, from int, level exam.Level, take func(string) bool) (lines []string, next int, full bool) {
	for next = from; next < len(p.Worries) && p.Worries[next].Remark.Level >= level; {
		line, n := joined(in, p.Worries[next:])
		said := slices.Contains(lines, line)
		if !said && !take(line) {
			return lines, next, true
		}
		for i := range n {
			p.Worries[next+i].Read = true
		}
		if next += n; !said {
			lines = append(lines, line)
		}
	}
	return lines, next, false
}

func count(lines []string) int {
	n := 0
	for _, l := range lines {
		n += SpokenWords(l)
	}
	return n
}

// more says how many findings are on the page and not read, by level.
func more(n int, worries []Worry) string {
	if n == 0 {
		return ""
	}
	levels := map[exam.Level]int{}
	for _, w := range worries {
		if !w.Read {
			levels[w.Remark.Level]++
		}
	}
	var parts []string
	for _, l := range []exam.Level{ranges.LevelTell, ranges.LevelRecheck, ranges.LevelNote} {
		if levels[l] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", levels[l], l))
		}
	}
	return "More on the page: " + strings.Join(parts, ", ") + "."
}

func (in Input) situation(by string) []string {
	v, h := in.Visit, in.Visit.Horse
	who := []string{cut(h.Name, 4)}
	for _, part := range []string{string(h.Sex), h.AgeWords(v.OpenedAt), cut(h.Place, 5)} {
		if part != "" && part != string(exam.SexUnknown) {
			who = append(who, part)
		}
	}
	if h.Sex == "" || h.Sex == exam.SexUnknown || h.Kind != exam.AnimalHorse {
		who = slices.Insert(who, 1, string(h.Kind))
	}
	lines := []string{fmt.Sprintf("This is %s, with %s.", cut(by, 4), strings.Join(who, ", "))}
	lines = append(lines, saidDangers(dangers(v))...)
	if v.Reason != "" {
		lines = append(lines, "Seen for: "+cut(v.Reason, 12)+".")
	}
	if len(v.Context.Stirred()) > 0 { // without it a high rate is misunderstood
		lines = append(lines, "Before: "+cut(before(v.Context), 10)+".")
	}
	if in.Verdict.Level > ranges.LevelUsual {
		lines = append(lines, fmt.Sprintf("The exam stands at: %s.", in.Verdict.Level))
	}
	return lines
}

// before is what the horse did in the half hour before the exam.
func before(c exam.Context) string {
	states := make([]string, len(c.States))
	for i, s := range c.States {
		states[i] = string(s)
	}
	return strings.Join(states, ", ")
}

func (in Input) background() []string {
	v, h := in.Visit, in.Visit.Horse
	var lines []string
	add := func(label, text string) {
		if text != "" {
			lines = append(lines, label+cut(text, 10)+".")
		}
	}
	if len(v.Context.Stirred()) == 0 {
		add("Before: ", before(v.Context))
	}
	add("Reactions before: ", strings.Join(h.Reactions, ", "))
	if h.InFoal {
		lines = append(lines, "In foal.")
	}
	if seen := exam.LookedAt(in.Earlier); len(seen) > 0 && len(in.Table.Columns) > 1 {
		lines = append(lines, fmt.Sprintf("Last seen %s, %s.", seen[0].OpenedAt.Format("2 January"), in.Table.Columns[1].Level))
	}
	add("Lately given: ", strings.Join(lately(append([]exam.Visit{v}, in.Earlier...), in.Now), ", "))
	add("Handle with care: ", strings.Join(h.Cautions, ", "))
	add("Owner: ", h.Owner)
	return lines
}

// lately lists the products given in the last 14 days.
func lately(visits []exam.Visit, now time.Time) []string {
	var out []string
	for _, v := range visits {
		for _, i := range v.Injections {
			if i.State == exam.InjectionGiven && i.EndAt != nil && now.Sub(*i.EndAt) < 14*24*time.Hour {
				out = append(out, i.Order.Product+" on "+i.EndAt.Format("2 January"))
			}
		}
	}
	return out
}

func (in Input) request() []string {
	if text := exam.CleanLine(in.Asked, 0); text != "" {
		return []string{cut(text, 25)}
	}
	lines := []string{"Please say: go ahead, wait, or stop."}
	if in.Verdict.Level >= ranges.LevelTell || len(dangers(in.Visit)) > 0 {
		lines[0] = "Please look at this horse, or say what is to be done: go ahead, wait, or stop."
	}
	if due.Wounded(in.Visit) {
		if _, ask := due.Booster(append([]exam.Visit{in.Visit}, in.Earlier...), in.Now); ask {
			lines = append(lines, "There is a wound: is a tetanus booster due?")
		}
	}
	return lines
}

// notDoneLines says what was passed over and why, a line a reason, and how much
// is still open.
func (p *Page) notDoneLines(in Input) []string {
	names := map[string][]string{}
	var reasons []string
	for _, f := range p.NotDone {
		if f.NotDone == exam.ReasonNotApplicable {
			continue // on the page
		}
		if len(names[f.NotDone]) == 0 {
			reasons = append(reasons, f.NotDone)
		}
		if name := in.short(f.Step); !slices.Contains(names[f.NotDone], name) {
			names[f.NotDone] = append(names[f.NotDone], name)
		}
	}
	var lines []string
	for _, r := range reasons[:min(len(reasons), 3)] {
		list := names[r]
		text := strings.Join(list[:min(len(list), 3)], ", ")
		if len(list) > 3 {
			text += fmt.Sprintf(" and %d more", len(list)-3)
		}
		lines = append(lines, fmt.Sprintf("Not done, %s: %s.", cut(r, 4), text))
	}
	if line := in.left(); line != "" {
		lines = append(lines, line)
	}
	return lines
}

// left says what nobody looked at yet: a few by name, many by their number.
func (in Input) left() string {
	var names []string
	for _, k := range in.Left {
		if name := in.short(k.Step); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	switch {
	case len(names) == 0:
		return ""
	case len(names) <= 3:
		return fmt.Sprintf("Not looked at yet: %s.", strings.Join(names, ", "))
	default:
		return fmt.Sprintf("%d not looked at yet.", len(in.Left))
	}
}

func (in Input) short(id exam.StepID) string {
	if s, ok := in.Steps.ByID(id); ok {
		return strings.ToLower(s.Short)
	}
	return string(id)
}

// cut keeps the beginning of a text from a person, clean, on one line, and no more
// than so many words when it is read aloud. A word that is no word is cut too.
func cut(text string, words int) string {
	const longest = 24 // characters
	var kept []string
	used := 0
	for _, field := range strings.Fields(exam.CleanNote(text)) {
		if r := []rune(field); len(r) > longest {
			field = string(r[:longest])
		}
		if used += max(1, SpokenWords(field)); used > words {
			kept = append(kept, "...")
			break
		}
		kept = append(kept, field)
	}
	return strings.TrimSuffix(strings.Join(kept, " "), ".")
}
