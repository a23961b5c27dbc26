package handoff

import (
	"cmp"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
)

// Input is what a page is made of.
type Input struct {
	Visit    exam.Visit
	Earlier  []exam.Visit // newest first
	Verdict  judge.Verdict
	Table    compare.Table // of this visit, then earlier ones
	Left     []exam.Key    // places of the routine not answered yet
	Coverage exam.Coverage // how much of the routine is answered
	Steps    *exam.Steps
	Asked    string // what is asked; empty for the usual question
	By       string // who reads; empty for who opened the visit
	Now      time.Time
	Call     string // how the veterinarian is reached; empty where nobody set it
}

// Worry is one finding that stands out, as it is read and as it is written.
type Worry struct {
	Remark exam.Remark
	Name   string
	Spoken string // empty where everything of it is read elsewhere
	Change compare.Change
	Read   bool // it is among the lines that are read
}

// Section is one part of what is read.
type Section struct {
	Name  string
	Lines []string
}

// Names of the sections, in the order in which they are read. It is SBAR: why I
// call and danger signs are the situation; vital signs and what stands out are what
// I measured and what worries me; the rest is the background; then the request.
const (
	Why      = "Why I call"
	Dangers  = "Danger signs"
	Vitals   = "Vital signs"
	StandOut = "What stands out"
	Rest     = "The rest"
	Request  = "What I ask"
)

// Page is the page of a hand-off, before it is set.
type Page struct {
	Visit    exam.Visit
	By       string
	At       time.Time
	Call     string // how the veterinarian is reached; on the page and not read
	Level    exam.Level
	Coverage exam.Coverage
	Sections []Section // what is read, in order; those without lines are left out
	Words    int       // that reading takes
	Vitals   []Vital   // every vital sign, taken or not
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

// Stands is how the exam stands, with how much of it is answered; it is on the page
// and not read.
func (p Page) Stands() string { return p.Coverage.Level(p.Level) }

// ForTheVet stands where assessment and plan would.
const ForTheVet = "left empty: for the veterinarian"

// Make makes the page. What is read holds to MostWords: why, danger signs, vital
// signs and the request always, then the most pressing first, and how many more
// findings there are on the page.
func Make(in Input) Page {
	v := in.Visit
	p := Page{
		Visit: v, By: cmp.Or(in.By, v.By), At: in.Now, Call: in.Call, Level: in.Verdict.Level, Coverage: in.Coverage, Left: in.Left, HandOffs: v.HandOffs,
		Vitals: in.vitals(), Subject: subject(in), Object: object(in),
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
