package handoff_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/examtest"
	"loosebox/exam/handoff"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func noon() time.Time { return time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC) }

func horse() exam.Horse {
	return exam.Horse{
		ID: "h", Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.Mare, Owner: "J. Marlowe", Place: "Hollow Farm", Cautions: []string{"kicks"},
		Birth: exam.Birth{At: time.Date(2017, 1, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay},
	}
}

func visit(at time.Time, found ...exam.Finding) exam.Visit {
	for i := range found {
		found[i].At, found[i].By, found[i].Seq = at, "Ann", i+2
	}
	return exam.Visit{
		ID: "v", Horse: horse(), OpenedAt: at, By: "Nell Harrow", Reason: "off her feed since yesterday",
		Context: exam.Context{States: []exam.State{exam.StateRest}}, Findings: found, Routine: "full-exam",
	}
}

func number(step exam.StepID, v float64, u notation.Unit) exam.Finding {
	return exam.Finding{Step: step, Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: u}}}
}

func words(step exam.StepID, site exam.Site, keys ...string) exam.Finding {
	s, _ := examtest.Steps().ByID(step)
	v, err := s.ChoiceValue(keys...)
	if err != nil {
		panic(err)
	}
	return exam.Finding{Step: step, Site: site, Value: v}
}

// builtIn judges by the built-in tables; it is made once, because it remembers nothing.
var builtIn = sync.OnceValues(func() (*judge.Judge, error) {
	table, err := ranges.BuiltIn()
	return judge.New(table, examtest.Steps()), err
})

func input(t require.TestingT, v exam.Visit, earlier ...exam.Visit) handoff.Input {
	all := examtest.Steps()
	j, err := builtIn()
	require.NoError(t, err)
	columns := append([]exam.Visit{v}, earlier...)
	n := min(2, len(columns))
	sides := compare.Visits(columns[:n], columns[n:], j, all)
	sides.Cover(columns, examtest.Routines(), all)
	return handoff.Input{
		Visit: v, Earlier: earlier, Verdict: j.Visit(v, earlier), Coverage: v.CoverageIn(examtest.Routines(), all), Steps: all, Now: noon(), Table: sides,
	}
}

func section(p handoff.Page, name string) string {
	for _, s := range p.Sections {
		if s.Name == name {
			return strings.Join(s.Lines, "\n")
		}
	}
	return ""
}

func TestAPageSaysWhoWhyWhatAndWhatIsAsked(t *testing.T) {
	before := visit(noon().AddDate(0, -2, 0), number("temp.rectal", 37.7, notation.Celsius), number("heart.rate", 36, notation.PerMinute))
	refused := exam.Finding{Step: "gum.refill", NotDone: exam.ReasonRefused}
	v := visit(
		noon(), number("temp.rectal", 39.6, notation.Celsius), number("heart.rate", 56, notation.PerMinute), words("gum.colour", "", "pale"), refused,
		words("hoof.heat", exam.LeftFore, "hot"), words("hoof.heat", exam.RightFore, "hot"),
	)
	p := handoff.Make(input(t, v, before))
	var order []string
	for _, s := range p.Sections {
		order = append(order, s.Name)
	}
	assert.Equal(t, []string{handoff.Why, handoff.Vitals, handoff.StandOut, handoff.Rest, handoff.Request}, order)
	assert.Equal(t, "This is Nell Harrow, with Bracken, mare, 9 years, Hollow Farm.\nI am calling because of: temperature.\nSeen for: off her feed since yesterday.", section(p, handoff.Why))
	assert.Contains(t, section(p, handoff.Rest), "Last seen 2 January, usual, 2 of 59 answered.")
	assert.Equal(t, "Temperature 39.6 C.\nHeart rate 56 a minute.\nGums pale.\nNot taken: breathing rate, gum moisture, gut sounds, weight.\nNot taken, horse refused: gum refill.",
		section(p, handoff.Vitals), "their values come before anything is said of them")
	out := section(p, handoff.StandOut)
	assert.Contains(t, out, "Temperature: usual 36.5-38.3, up 1.9 since 2 January.")
	assert.Contains(t, out, "Heart rate: usual 28-44, up 20 since 2 January.")
	assert.Contains(t, out, "Hoof heat left fore and right fore hot, or both fores warm for hours.")
	assert.Less(t, strings.Index(out, "Temperature"), strings.Index(out, "Heart rate"), "tell the vet before recheck")
	assert.Contains(t, section(p, handoff.Request), "Please look at this horse")
	assert.Less(t, p.Seconds(), 60.0)

	worked := input(t, v, before)
	worked.Visit.Context.States = []exam.State{exam.StateWorked, exam.StateHot}
	assert.Contains(t, section(handoff.Make(worked), handoff.Why), "Last 30 minutes: worked, hot weather.", "read before any rate that it raises")

	d := p.Document()
	assert.Equal(t, "loosebox/handoff/1", d.Schema)
	assert.Empty(t, d.Soap.Assessment)
	assert.Empty(t, d.Soap.Plan)
	assert.Equal(t, "left empty: for the veterinarian", d.Soap.LeftFor)
	assert.Contains(t, strings.Join(d.Soap.S, " "), "off her feed since yesterday")
	assert.Contains(t, strings.Join(d.Soap.O, " "), "temperature 39.6 C [tell the vet]")
	assert.Contains(t, strings.Join(d.Soap.O, " "), "gum refill not done (horse refused)")
	data, err := json.Marshal(d)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), `{"schema":"loosebox/handoff/1"`))

	text := p.Text(60)
	assert.Contains(t, text, "A  left empty: for the veterinarian")
	assert.Contains(t, text, "Ask the vet to repeat: [ ]")
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 60, line)
	}
	v.HandOffs = []exam.HandOff{{HandOffLine: exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, ReadBack: true}, Signed: exam.Signed{At: noon()}}}
	assert.Contains(t, handoff.Make(input(t, v)).Text(80), "[x] Dr Vale, by telephone just now, 12:00")
}

func TestAWoundAsksAboutTetanus(t *testing.T) {
	v := visit(noon(), words("limb.look", exam.LeftFore, "wound"))
	p := handoff.Make(input(t, v))
	assert.Contains(t, section(p, handoff.Request), "is a tetanus booster due?")
	at := noon().AddDate(0, -2, 0)
	given := exam.Visit{Injections: []exam.Injection{{State: exam.InjectionGiven, EndAt: &at, Order: exam.Order{Against: []string{"tetanus"}}}}, OpenedAt: at}
	p = handoff.Make(input(t, v, given))
	assert.NotContains(t, section(p, handoff.Request), "tetanus")
}

// A reaction in the watch is the first thing that is read, and stands in the O.
func TestASignOfDangerIsReadFirst(t *testing.T) {
	v := visit(noon(), number("temp.rectal", 37.8, notation.Celsius))
	at := noon()
	v.Injections = []exam.Injection{{Number: 1, State: exam.InjectionGiven, EndAt: &at, Order: exam.Order{Product: "Vaccine T", Lot: "LT-4471"}}}
	v.Watches = []exam.Watch{{Injection: 1, State: exam.WatchReaction, EndAt: &at, SignWords: "Reaction to the product: hives"}}
	p := handoff.Make(input(t, v))
	assert.Equal(t, "Just now, 12:00, after an injection of Vaccine T: Reaction to the product: hives.", section(p, handoff.Dangers))
	assert.Equal(t, handoff.Dangers, p.Sections[1].Name, "before any number")
	assert.Contains(t, section(p, handoff.Why), "I am calling because of: a sign of danger.")
	assert.Contains(t, section(p, handoff.Request), "Please look at this horse")
	assert.Contains(t, strings.Join(p.Object, "\n"), "Sign of danger, 12:00, after an injection of Vaccine T, lot LT-4471")
	v.Injections = append(v.Injections, exam.Injection{
		Number: 2, State: exam.InjectionPulsing, Sign: "artery", SignWords: "the blood pulsed", Order: exam.Order{Product: "Product C"},
		Attempts: []exam.NeedleAttempt{{Signed: exam.Signed{At: at.Add(time.Minute)}}},
	})
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Dangers), "At 12:01, injection of Product C: the blood pulsed.")
	for range 5 {
		v.Watches = append(v.Watches, v.Watches[0])
	}
	assert.Less(t, handoff.Make(input(t, v)).Seconds(), 60.0)
}

// Of a mare in foal the day on which the foal is expected is read.
func TestTheDayOfTheFoalIsRead(t *testing.T) {
	v := visit(noon(), number("temp.rectal", 37.8, notation.Celsius))
	v.Horse.InFoal = true
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Rest), "In foal.")
	v.Horse.FoalDue = "2026-04-16"
	assert.Contains(t, section(handoff.Make(input(t, v)), handoff.Rest), "In foal, due 16 Apr 2026.")
}

func TestNothingOutOfRangeIsSaidToo(t *testing.T) {
	p := handoff.Make(input(t, visit(noon(), number("temp.rectal", 37.8, notation.Celsius))))
	assert.Equal(t, "No answer so far is out of range, 1 of 59 steps answered.", section(p, handoff.StandOut))
	in := input(t, visit(noon()))
	in.Left, in.Asked = []exam.Key{{Step: "temp.rectal"}}, "May I give the yearly vaccine?"
	p = handoff.Make(in)
	assert.Equal(t, "Nothing is measured yet.", section(p, handoff.StandOut))
	assert.Equal(t, "Not taken: temperature, heart rate, breathing rate, gums and refill, gut sounds, weight.", section(p, handoff.Vitals))
	assert.Equal(t, "May I give the yearly vaccine?", section(p, handoff.Request))
}

func TestSpokenWords(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, "gum color pale": 3, "Heart 64 /min.": 5, "38.4 C": 5, "usual 28-44": 6, "2 March": 2, "needle-shy": 2, "...": 0, "PASTE": 1,
	} {
		assert.Equal(t, want, handoff.SpokenWords(text), text)
	}
}

// However much is wrong and however long the texts: it is read in a minute,
// the worst first, and what is not read is counted.
func TestAnyPageIsReadInAMinute(t *testing.T) {
	table := examtest.Steps()
	rapid.Check(t, func(rt *rapid.T) {
		var found []exam.Finding
		often := rapid.IntRange(1, 5).Draw(rt, "often")
		for _, s := range table.All() {
			sites := s.Sites
			if len(sites) == 0 {
				sites = []exam.Site{exam.NoSite}
			}
			for _, site := range sites {
				switch {
				case rapid.IntRange(0, 9).Draw(rt, "skip") < often:
					f := exam.Finding{Step: s.ID, Site: site, NotDone: rapid.SampledFrom(append(exam.Reasons(), exam.Reason("a "+strings.Repeat("long ", 40)))).Draw(rt, "why")}
					if f.NotDone == exam.ReasonOther { // another one at each site
						f.Note = fmt.Sprintf("%s%d of many words that a person wrote here", site, len(found))
					}
					found = append(found, f)
				case len(s.Choices) > 0:
					found = append(found, words(s.ID, site, rapid.SampledFrom(s.Choices).Draw(rt, "choice").Key))
				case s.Unit != "":
					f := number(s.ID, rapid.Float64Range(0, 200).Draw(rt, "n"), s.Unit)
					f.Site = site
					found = append(found, f)
				}
			}
		}
		v := visit(noon(), found...)
		long := strings.Repeat(rapid.OneOf(rapid.StringN(1, 12, -1), rapid.StringMatching(`[0-9.]{1,60}`)).Draw(rt, "text")+" ", rapid.IntRange(1, 60).Draw(rt, "times"))
		v.Reason, v.Horse.Name, v.Horse.Place, v.By, v.Horse.Owner = long, long, long, long, long
		v.Horse.Cautions, v.Horse.Reactions = []string{long}, []string{long}
		p := handoff.Make(input(rt, v))
		require.LessOrEqual(rt, p.Seconds(), 60.0, "%d words", p.Words)
		read, level := 0, ranges.LevelTell
		for i, w := range p.Worries {
			require.LessOrEqual(rt, w.Remark.Level, level)
			level = w.Remark.Level
			if w.Read {
				read++
				require.Equal(rt, i, read-1, "what is read is the beginning of the list")
			}
		}
		require.Equal(rt, len(p.Worries), read+p.More)
		if p.More > 0 {
			require.Contains(rt, section(p, handoff.StandOut), "More on the page: ")
		}
		control := strings.IndexFunc(p.Text(80), func(r rune) bool { return r < ' ' && r != '\n' })
		require.Negative(rt, control, "a control character in %q", p.Text(80))
	})
}

// A change that is noise is not read as one, and is not denied: 39.1 C against 38.9 C
// is within the daily swing, so the number of last time is read.
func TestNoiseIsNotReadAsAChange(t *testing.T) {
	before := visit(noon().AddDate(0, 0, -1), number("temp.rectal", 38.9, notation.Celsius))
	before.ID, before.ClosedAt = "before", &before.OpenedAt
	p := handoff.Make(input(t, visit(noon(), number("temp.rectal", 39.1, notation.Celsius)), before))
	assert.Contains(t, section(p, handoff.StandOut), "Temperature: usual 36.5-38.3, last time 38.9.")
	f := p.Document().Findings[0]
	assert.Equal(t, compare.WithinNoise, f.Changed)
	assert.InDelta(t, 0.2, *f.Change, 1e-9)
}

// What was not looked at is read as a whole sentence, with no end cut off.
func TestWhatWasNotLookedAtIsReadWhole(t *testing.T) {
	v := visit(noon(), number("heart.rate", 66, notation.PerMinute), words("pain.signs", "", "kicks"), words("gum.colour", "", "pale"))
	v.Reason, v.Routine, v.ClosedAt = "colic", "colic-check", &v.OpenedAt
	out := section(handoff.Make(input(t, v)), handoff.StandOut)
	assert.Contains(t, out, "Two or three of six signs of colic were not checked.")
	assert.NotContains(t, out, "...")
}

// What could not be examined is read with the person's own words and its site: "other" says nothing to who listens.
func TestWhatCouldNotBeExaminedIsReadWithItsWords(t *testing.T) {
	v := visit(
		noon(),
		exam.Finding{Step: "gum.refill", NotDone: exam.ReasonOther, Note: "gums black with mud"},
		exam.Finding{Step: "breath.rate", NotDone: exam.ReasonUnsafe, Note: "struck twice"},
		words("hoof.heat", exam.LeftFore, "hot"), exam.Finding{Step: "hoof.heat", Site: exam.RightFore, NotDone: exam.ReasonOther, Note: "in plaster"},
		exam.Finding{Step: "posture", NotDone: exam.ReasonRefused},
		exam.Finding{Step: "urine", NotDone: exam.ReasonNoTime},
		exam.Finding{Step: "jugular.fill", NotDone: exam.ReasonUnsafe},
	)
	p := handoff.Make(input(t, v))
	assert.Contains(t, section(p, handoff.Vitals), "Not taken, gums black with mud: gum refill.")
	assert.Contains(t, section(p, handoff.Vitals), "Not taken, unsafe, struck twice: breathing rate.")
	rest := section(p, handoff.Rest)
	assert.Contains(t, rest, "Not done, in plaster: hoof heat right fore.")
	assert.Contains(t, rest, "Not done, reasons on the page: ", "a fourth reason is not dropped")
	for _, name := range []string{"posture", "urine", "jugular"} {
		assert.Contains(t, rest, name)
	}
	assert.NotContains(t, read(p), "other")
	assert.Contains(t, strings.Join(p.Document().Soap.O, " "), "not done (gums black with mud)")
}

// Nothing answered is not usual: the level is null then.
func TestAVisitOfWhichNothingIsAnsweredHasNoLevel(t *testing.T) {
	assert.Nil(t, handoff.Make(input(t, visit(noon()))).Document().Level)
	level := handoff.Make(input(t, visit(noon(), number("temp.rectal", 37.8, notation.Celsius)))).Document().Level
	require.NotNil(t, level)
	assert.Equal(t, ranges.LevelUsual, *level)
}
