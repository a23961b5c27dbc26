package report_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
)

func flat(blocks []report.Block) string {
	return strings.Join(strings.Fields(report.SetText(blocks, 200)), " ")
}

func picked(step exam.StepID, site exam.Site, key string) exam.Entry {
	return exam.Entry{Kind: exam.EntryFinding, Step: step, Site: site, Value: &exam.Value{Kind: exam.KindPick, Words: []string{key}}}
}

// The first page says who, how it stands, the vital signs beside usual and last, and each thing that stands out once.
func TestTheFirstPage(t *testing.T) {
	gut := []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower}
	entries := []exam.Entry{{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39.6)}, {Kind: exam.EntryNotDone, Step: "heart.rate", Reason: string(exam.ReasonRefused)}}
	for _, site := range gut {
		entries = append(entries, picked("gut.sounds", site, "none"))
	}
	p := page(t, entries...)
	p.Judge = theJudge(t)
	p.Visit.Horse.Chip = "985141000123456"
	earlier := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(37.4)}).Visit
	earlier.ID, earlier.OpenedAt = "w", p.Visit.OpenedAt.Add(-2*time.Hour)
	p.Earlier = []exam.Visit{earlier}
	p.Verdict = p.Judge.Visit(p.Visit, nil)
	text := flat(report.Front(p))
	for _, want := range []string{
		"985141000123456", "OPEN, not finished", "! Rectal temperature 39.6 C 36.5-38.3 C 37.4 C, 2 Mar 2026 07:00", "not done, horse refused", "Breathing rate not taken",
		"none, all 4 sites", "horse refused: heart rate", "Examined by Ann", "Veterinarian, date and time", "the veterinarian decides",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, strings.ToLower(text), "gut sounds gut sounds")
	assert.Equal(t, 1, strings.Count(text, "tell the vet Rectal temperature"))
	assert.Contains(t, p.Foot(), "Bracken · chip 985141000123456 · visit 2 Mar 2026 09:00 · OPEN, not finished")
	p.Visit.Horse.Chip = ""
	assert.Contains(t, p.Foot(), "no chip recorded")
}

// What was given in this visit and what papers show of earlier years are never mixed on the first page.
func TestDosesFromPapersAreNotGivenInThisVisit(t *testing.T) {
	p := page(t, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
		Number: 1, Phase: exam.InjectionNoted, On: "2025", Basis: "passport", Order: &exam.Order{Product: "Vaccine Q", Against: []string{"tetanus"}},
	}})
	text := flat(report.Front(p))
	assert.NotContains(t, text, "Vaccine Q")
	assert.Contains(t, text, "given before this visit: 1, in the details")
	assert.Contains(t, flat(report.Details(p)), "PAST DOSES 1 Vaccine Q given 2025, from passport")
}

// A needle that is in and not out is said on the first page, loudly.
func TestAnOpenInjectionIsLoudOnTheFirstPage(t *testing.T) {
	order := &exam.Order{Product: "Vaccine R", Lot: "R1", Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM, Expiry: notation.Expiry{Last: "2027-02-28"}}
	p := page(t,
		exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: order}},
		exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle"}}})
	found := false
	for _, b := range report.Front(p) {
		for _, l := range b.Lines {
			found = found || l.Level > 0 && strings.Contains(l.Text, "OPEN: the needle was inserted and is not")
		}
	}
	assert.True(t, found)
}

// A struck visit says so in its box, its first lines and the foot of every page.
func TestAStruckVisitSaysSoOnEveryPage(t *testing.T) {
	p := struck(t)
	assert.Contains(t, p.Foot(), "VOIDED, does not count")
	text := flat(report.Front(p))
	assert.Contains(t, text, "VOIDED: this visit does not count")
	assert.Contains(t, text, "the other horse")
}

// A reading stands where it is signed, with the reader's words and what came after it.
func TestAReadingStandsOnTheFirstPage(t *testing.T) {
	p := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(38)}, exam.Entry{Kind: exam.EntryClosed})
	p.Visit.Readings = []exam.Reading{{ReadingLine: exam.ReadingLine{Role: exam.ReadByVet, Words: "Agreed."}, Signed: exam.Signed{By: "Dr Vale", Seq: 2}}}
	text := flat(report.Front(p))
	assert.Contains(t, text, `Read by Dr Vale, veterinarian`)
	assert.Contains(t, text, `"Agreed."`)
	assert.Contains(t, text, "Not signed off: 1 saved after Dr Vale read it")
	require.Contains(t, flat(report.OwnerBlocks(p, theJudge(t))), "Dr Vale")
}

// Sources are numbered notes; the same one has one number.
func TestSourcesAreNotes(t *testing.T) {
	p := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39.6)})
	p.Judge = theJudge(t)
	p.Verdict = p.Judge.Visit(p.Visit, nil)
	text := flat(report.Details(p))
	assert.Contains(t, text, "[1]")
	assert.Contains(t, text, "SOURCES [1] ")
	assert.NotContains(t, flat(report.Front(p)), "http")
}

// The first page says why something was not done in the person's own words, and of what it does not know.
func TestTheFirstPageSaysWhyAndOfWhatNothingIsKnown(t *testing.T) {
	p := page(t, exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: string(exam.ReasonOther), Note: "gums black with mud"},
		exam.Entry{Kind: exam.EntryNotDone, Step: "posture", Reason: string(exam.ReasonUnsafe), Note: "struck twice"})
	p.Visit.Horse.Sex = exam.SexUnknown
	text := flat(report.Front(p))
	assert.Contains(t, text, "not done, gums black with mud")
	assert.Contains(t, text, "unsafe, struck twice: posture")
	assert.Contains(t, text, ", sex not known")
	p.Visit.Horse.Sex, p.Visit.Horse.InFoal = exam.Mare, true
	assert.Contains(t, flat(report.Front(p)), ", mare, in foal")
	assert.NotContains(t, text, "other:")
}

// What could not be judged for want of a range is not among what is not out of range.
func TestWhatHasNoRangeIsNotSaidToBeInRange(t *testing.T) {
	tent := exam.Entry{Kind: exam.EntryFinding, Step: "skin.tent", Value: &exam.Value{Kind: exam.KindTime, Number: &notation.Quantity{Value: 1.5, Unit: notation.Seconds}}}
	checked := func(kind exam.AnimalKind) string {
		p := page(t, tent)
		p.Visit.Horse.Kind = kind
		p.Verdict = theJudge(t).Visit(p.Visit, nil)
		return strings.ToLower(flat(report.Front(p)))
	}
	assert.Contains(t, checked(exam.AnimalHorse), "checked, nothing out of range skin skin tent time")
	donkey := checked(exam.AnimalDonkey)
	assert.NotContains(t, donkey, "nothing out of range")
	assert.Contains(t, donkey, "recorded, not judged skin tent time")
}
