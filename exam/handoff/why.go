package handoff

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// mostReasons is how many findings are named as the reason of a call.
const mostReasons = 3

// why says who calls about which horse and because of what; more is what helps to
// understand it, where there are words for it.
func (in Input) why(by string) (lines, more []string) {
	lines = []string{in.who(by), in.because()}
	v := in.Visit
	if v.Reason != "" {
		more = append(more, "Seen for: "+cut(v.Reason, 10)+".")
	}
	if old := in.Now.Sub(v.OpenedAt); old >= 15*time.Minute {
		more = append(more, "Exam begun "+notation.SayWhen(v.OpenedAt, in.Now)+".")
	}
	if len(v.Context.NotAtRest()) > 0 { // without it a high rate is misunderstood
		more = append(more, "Last 30 minutes: "+cut(before(v.Context), 8)+".")
	}
	return lines, more
}

func (in Input) who(by string) string {
	v, h := in.Visit, in.Visit.Horse
	who := []string{cut(h.Name, 4)}
	sex := h.Sex.String()
	switch young := v.Class().Young && h.Kind == exam.AnimalHorse; {
	case young && h.Sex == exam.Mare:
		who, sex = append(who, "filly foal"), ""
	case young && h.Sex == exam.Stallion:
		who, sex = append(who, "colt foal"), ""
	case young:
		who = append(who, "foal")
	case h.Sex == "" || h.Sex == exam.SexUnknown || h.Kind != exam.AnimalHorse:
		who = append(who, h.Kind.String())
	}
	for _, part := range []string{sex, h.AgeWords(v.OpenedAt), cut(h.Place, 5)} {
		if part != "" && part != exam.SexUnknown.String() {
			who = append(who, part)
		}
	}
	return fmt.Sprintf("This is %s, with %s.", cut(by, 4), strings.Join(who, ", "))
}

// because is the reason of the call: a sign of danger, then what is for the
// veterinarian; where nothing is, what is to be looked at again.
func (in Input) because() string {
	var names []string
	if len(dangers(in.Visit)) > 0 {
		names = append(names, "a sign of danger")
	}
	for _, level := range []exam.Level{ranges.LevelTell, ranges.LevelRecheck} {
		if len(names) == 0 || level == ranges.LevelTell {
			names = append(names, in.namesAt(level)...)
		}
	}
	if n := len(names); n > mostReasons {
		names = append(names[:mostReasons], fmt.Sprintf("%d more", n-mostReasons))
	}
	switch {
	case len(names) > 0:
		return "I am calling because of: " + listed(names) + "."
	case notation.CleanLine(in.Asked, 0) != "":
		return "I am calling with a question."
	}
	return "I am calling for your information."
}

// namesAt names what stands at a level, each once, that of a combination by the findings it is made of.
func (in Input) namesAt(level exam.Level) []string {
	var names []string
	for _, r := range in.Verdict.Remarks {
		if r.Level != level {
			continue
		}
		for _, name := range in.namesOf(r) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// namesOf names what a remark is about: the steps, or why an injection is told.
func (in Input) namesOf(r exam.Remark) []string {
	if r.Injection > 0 {
		if i, ok := in.Visit.Injection(r.Injection); ok && authorization.Beside(in.Visit, i) {
			return []string{"injections on two laptops that did not know of each other"}
		}
		return []string{"an injection that differs from the order"}
	}
	keys := []exam.Key{{Step: r.Step, Site: r.Site}}
	if r.Combination && len(r.Of) > 0 {
		keys = r.Of
	}
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = in.name(k.Step)
	}
	return names
}

// before is what the horse did in the half hour before the exam.
func before(c exam.Context) string {
	states := make([]string, len(c.States))
	for i, s := range c.States {
		states[i] = s.String()
	}
	return strings.Join(states, ", ")
}

// listed joins names as they are read: "a, b and c".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
