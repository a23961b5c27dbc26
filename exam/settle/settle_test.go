package settle_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/exam/steps"
)

// twoLaptops folds lines of a visit; Unseen names the lines before each that its writer did not hold.
func twoLaptops(t *testing.T, lines ...exam.Entry) exam.Visit {
	t.Helper()
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	all := append([]exam.Entry{{Kind: exam.EntryOpened, Opening: &exam.Opening{Horse: exam.Horse{ID: "h", Name: "Bracken"}}}}, lines...)
	var prev exam.Hash
	for i := range all {
		all[i].Visit, all[i].Seq, all[i].Prev, all[i].At = "v", i+1, prev, at.Add(time.Duration(i)*time.Minute)
		require.NoError(t, exam.Seal(&all[i]))
		prev = all[i].Hash
	}
	v, err := exam.Fold(all)
	require.NoError(t, err)
	return v
}

func heart(by string, bpm float64, unseen ...int) exam.Entry {
	return exam.Entry{Kind: exam.EntryFinding, By: by, Step: "heart.rate", Unseen: unseen, Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: bpm, Unit: notation.PerMinute}}}
}

func needle(by string, number int, unseen ...int) exam.Entry {
	return exam.Entry{Kind: exam.EntryInjection, By: by, Unseen: unseen, Injection: &exam.InjectionLine{Number: number, Phase: exam.InjectionReady, Order: &exam.Order{Product: "Product A"}}}
}

func given(by string, number int, unseen ...int) exam.Entry {
	return exam.Entry{Kind: exam.EntryInjection, By: by, Unseen: unseen, Injection: &exam.InjectionLine{Number: number, Phase: exam.InjectionGiven, VolumeML: 10}}
}

func texts(items []settle.Matter) []string {
	var out []string
	for _, i := range items {
		out = append(out, string(i.Kind)+": "+i.Text)
	}
	return out
}

// Each kind of what is to be settled in a visit is said in one sentence or two, with who wrote what.
func TestAVisitSaysWhatIsToBeSettled(t *testing.T) {
	decision := exam.Entry{Kind: exam.EntryDecision, By: "Cleo", Unseen: []int{3}, Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}}
	closing := exam.Entry{Kind: exam.EntryClosed, By: "Cleo", Unseen: []int{3}}
	for name, c := range map[string]struct {
		lines []exam.Entry
		want  []string
	}{
		"nothing":  {[]exam.Entry{heart("Ann", 44), heart("Ben", 60)}, nil},
		"the same": {[]exam.Entry{heart("Ann", 44), heart("Ben", 44, 2)}, nil},
		"answers":  {[]exam.Entry{heart("Ann", 44), heart("Ben", 60, 2)}, []string{"answers: Heart rate: 44 /min by Ann, or 60 /min by Ben. The worst counts."}},
		"not done": {
			[]exam.Entry{heart("Ann", 44), {Kind: exam.EntryNotDone, By: "Ben", Step: "heart.rate", Reason: string(exam.ReasonUnsafe), Unseen: []int{2}}},
			[]string{"answers: Heart rate: 44 /min by Ann, or not done, unsafe by Ben. The worst counts."},
		},
		"needles": {
			[]exam.Entry{needle("Ann", 1), needle("Ben", 2, 2), given("Ann", 1, 3), given("Ben", 2, 2, 4)},
			[]string{"needle: Injection 1 of Product A by Ann and Injection 2 of Product A by Ben did not know of each other. Both went in, and both count."},
		},
		"needles, one of them without a dose": {
			[]exam.Entry{needle("Ann", 1), needle("Ben", 2, 2), given("Ann", 1, 3), {Kind: exam.EntryInjection, By: "Ben", Unseen: []int{2, 4}, Injection: &exam.InjectionLine{Number: 2, Phase: exam.InjectionStopped, Why: exam.StopUnsafe}}},
			[]string{"needles: Injection 1 of Product A by Ann (given) and Injection 2 of Product A by Ben (stopped) did not know of each other. What went in counts."},
		},
		"a needle without the stop": {
			[]exam.Entry{
				{Kind: exam.EntryDecision, By: "Ann", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}},
				{Kind: exam.EntryDecision, By: "Ben", Corrects: 2, Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.Stop}},
				needle("Ann", 1, 3), given("Ann", 1, 3),
			},
			[]string{"missed: Injection 1 of Product A by Ann went in without what Dr Vale decided at 09:02: stop. It counts."},
		},
		"a needle that was told in time": {
			[]exam.Entry{
				{Kind: exam.EntryDecision, By: "Ann", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}},
				{Kind: exam.EntryDecision, By: "Ben", Corrects: 2, Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.Stop}},
				needle("Ann", 1, 3),
			},
			nil,
		},
		"a needle without another go ahead": {
			[]exam.Entry{
				{Kind: exam.EntryDecision, By: "Ann", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}},
				{Kind: exam.EntryDecision, By: "Ben", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.GoAhead}},
				needle("Ann", 1, 3), given("Ann", 1, 3),
			},
			nil,
		},
		"and a decision that knew of both": {
			[]exam.Entry{
				{Kind: exam.EntryDecision, By: "Ben", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.Stop}},
				needle("Ann", 1, 2), given("Ann", 1, 2),
				{Kind: exam.EntryDecision, By: "Ben", Decision: &exam.Decision{Vet: "Dr Vale", Ruling: exam.Wait}},
			},
			nil,
		},
		"a decision without an answer": {[]exam.Entry{heart("Ann", 36), heart("Ben", 44), decision}, []string{"decision: Dr Vale decided at 09:03. The person who entered it did not have 1 answer."}},
		"a closing without a line":     {[]exam.Entry{heart("Ann", 36), heart("Ben", 44), closing}, []string{"closing: The visit was closed by somebody who did not have 1 line. They stay."}},
	} {
		got := texts(settle.OfVisit(twoLaptops(t, c.lines...), steps.Table(), time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)))
		if len(c.want) > 0 && name == "needles" {
			c.want[0] = string(exam.UnsettledNeedles) + c.want[0][len("needle"):]
		}
		assert.Equal(t, c.want, got, name)
	}
}

// Looking at it settles everything but answers: those are settled by another answer that names both.
func TestLookingAtItSettlesAllButAnswers(t *testing.T) {
	lines := []exam.Entry{heart("Ann", 44), heart("Ben", 60, 2), {Kind: exam.EntryClosed, By: "Cleo", Unseen: []int{3}}}
	v := twoLaptops(t, lines...)
	at := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
	e, ok := settle.Looked(v, "Dora", "read both", at)
	require.True(t, ok)
	assert.Equal(t, []any{exam.VisitID("v"), exam.EntryNote, "Dora", "read both", []int{3, 4}}, []any{e.Visit, e.Kind, e.By, e.Note, e.Settles})
	v = twoLaptops(t, append(lines, e)...)
	items := settle.OfVisit(v, steps.Table(), v.OpenedAt)
	require.Len(t, items, 1)
	assert.Equal(t, []any{exam.UnsettledAnswers, exam.HorseID("h"), "Bracken", exam.StepID("heart.rate"), []int{2, 3}},
		[]any{items[0].Kind, items[0].Horse, items[0].Name, items[0].Step, items[0].Seqs})
	_, ok = settle.Looked(v, "Dora", "again", at)
	assert.False(t, ok, "nothing of the kind is left")

	f, _ := v.Finding(exam.Key{Step: "heart.rate"})
	chosen := heart("Dora", 60)
	chosen.Replace(f)
	v = twoLaptops(t, append(append(lines, e), chosen)...)
	assert.Empty(t, settle.OfVisit(v, steps.Table(), v.OpenedAt))
}

// Of a horse every field that differs is said with who wrote what; an empty value is called nothing.
func TestAHorseSaysWhatIsToBeSettled(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	h := exam.Horse{ID: "h", Name: "Bracken", Differ: []exam.HorseDispute{{Field: "owner_phone", Said: []exam.HorseValue{
		{Text: "555", Signed: exam.Signed{By: "Ann", Seq: 2, At: at}}, {Signed: exam.Signed{By: "Ben", Seq: 3, At: at.Add(time.Hour)}},
	}}}}
	items := settle.OfHorse(h)
	require.Len(t, items, 1)
	assert.Equal(t, "owner phone: 555 by Ann, or nothing by Ben. The last one stands.", items[0].Text)
	assert.Equal(t, []int{2, 3}, items[0].Seqs)
	assert.Equal(t, at.Add(time.Hour), items[0].At)
	assert.Empty(t, settle.OfHorse(exam.Horse{}))
}
