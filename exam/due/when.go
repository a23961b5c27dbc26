package due

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Base is what a span of time is counted from.
type Base string

// The bases.
const (
	Never     Base = ""
	Now       Base = "now"
	Age       Base = "age"       // from birth
	After     Base = "after"     // from the dose before
	Foaling   Base = "foaling"   // back from the day the foal is expected
	Gestation Base = "gestation" // from conception, reckoned from that day
	Every     Base = "every"     // from the last dose
	Pregnancy Base = "pregnancy" // the series again in each
	InWords   Base = "words"     // no date can be computed
)

// Unit of a span.
const (
	Days   = "d"
	Weeks  = "wk"
	Months = "mo"
)

// When is a span of time as a row of the schedule gives it.
type When struct {
	Base      Base
	Low, High int
	Unit      string
	Open      bool   // at Low or later, without an end
	Words     string // of InWords
}

// gestationDays is the mean length of gestation; 320 to 370 days are commonly
// called normal (read on several pages; no primary source held).
const gestationDays = 340

// String is the span for a person: "4-6 weeks after the dose before".
func (w When) String() string {
	span := strconv.Itoa(w.Low)
	if w.High > w.Low {
		span += "-" + strconv.Itoa(w.High)
	}
	name := map[string]string{Days: "day", Weeks: "week", Months: "month"}[w.Unit]
	if span != "1" {
		name += "s"
	}
	span += " " + name
	if w.Open {
		span += " or more"
	}
	switch w.Base {
	case Never:
		return ""
	case Now:
		return "now"
	case Age:
		return "at " + span + " of age"
	case After:
		return span + " after the dose before"
	case Foaling:
		return span + " before foaling"
	case Gestation:
		return "at " + span + " of gestation"
	case Every:
		return "every " + span
	case Pregnancy:
		return "again in each pregnancy"
	case InWords:
		return w.Words
	}
	return ""
}

// add returns the day so many units of the span after a day.
func (w When) add(t time.Time, n int) time.Time {
	switch w.Unit {
	case Months:
		return addMonths(t, n)
	case Weeks:
		return t.AddDate(0, 0, 7*n)
	default:
		return t.AddDate(0, 0, n)
	}
}

// addMonths keeps to the month: a month after 31 January is the last day of
// February, twelve months after 29 February the 28th.
func addMonths(t time.Time, n int) time.Time {
	first := time.Date(t.Year(), t.Month()+time.Month(n), 1, 0, 0, 0, 0, t.Location())
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(t.Day(), last)-1)
}

// day is the calendar day of a moment where the horse stands, at midnight UTC, so
// that days can be counted.
func day(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// spanForm and diseaseForm are compiled once, when the first table is read.
var (
	spanForm = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(age|after|foaling|gestation|every) ([0-9]{1,3})(?:-([0-9]{1,3}))?(d|wk|mo)(\+?)$`)
	})
	diseaseForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]{1,39}$`) })
)

// parseWhen reads a span as it stands in a table.
func parseWhen(text string) (When, error) {
	text = strings.TrimSpace(text)
	switch {
	case text == "":
		return When{}, nil
	case text == "now":
		return When{Base: Now}, nil
	case text == "pregnancy":
		return When{Base: Pregnancy}, nil
	case len(text) > 2 && text[0] == '"' && text[len(text)-1] == '"':
		return When{Base: InWords, Words: strings.Trim(text, `"`)}, nil
	}
	m := spanForm().FindStringSubmatch(text)
	if m == nil {
		return When{}, fmt.Errorf("%q is no span of time; write it like: age 4-6mo, after 4-6wk, foaling 4-6wk, every 12mo, now", text)
	}
	low, _ := strconv.Atoi(m[2]) // three digits at most
	w := When{Base: Base(m[1]), Low: low, High: low, Unit: m[4], Open: m[5] == "+"}
	if m[3] != "" {
		w.High, _ = strconv.Atoi(m[3])
	}
	if w.High < w.Low || w.High == 0 || (w.Open && w.Base != Age) || (w.Base == Gestation && (w.Unit != Months || w.High > 12)) {
		return When{}, fmt.Errorf("%q makes no sense as a span of time", text)
	}
	return w, nil
}
