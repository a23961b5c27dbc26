package authorization_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/ranges"
)

// A decision covers nothing that its writer's laptop did not hold (shared/facts/sharing.md,
// section 3), although the line stands before it in the visit.
func TestADecisionCoversOnlyWhatItKnew(t *testing.T) {
	at := time.Date(2026, 3, 2, 10, 0, 0, 0, time.UTC)
	go1 := exam.Decided{
		Decision: exam.Decision{Vet: "Dr Vale", Words: "go", Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "Product A", Dose: "5 mL", Times: 9}}},
		Signed:   exam.Signed{At: at, Seq: 9},
	}
	stop := exam.Decided{Decision: exam.Decision{Vet: "Dr Hill", Words: "nothing today", Ruling: exam.Stop}, Signed: exam.Signed{At: at, Seq: 8}}
	given := exam.Injection{
		Number: 1, Order: exam.Order{Product: "Product A", VolumeML: 5, Dose: "5 mL"}, State: exam.InjectionGiven, GivenML: 5, EndSeq: 7, EndAt: &at,
		Attempts: []exam.NeedleAttempt{{}}, Signed: exam.Signed{Seq: 7, At: at},
	}
	fever := exam.Finding{Step: "temp.rectal", Seq: 6}
	tell := []exam.Remark{{Step: "temp.rectal", Level: ranges.LevelTell, Value: "41.5 C", Why: "it is high."}}
	p := exam.Procedure{Kind: exam.Injecting, Product: "Product A", At: at.Add(time.Minute)}

	for name, c := range map[string]struct {
		v       exam.Visit
		without []int
		want    string
	}{
		"all was known":            {exam.Visit{Findings: []exam.Finding{fever}}, nil, ""},
		"a finding was not":        {exam.Visit{Findings: []exam.Finding{fever}}, []int{6}, "something new for the veterinarian"},
		"an answer beside it":      {exam.Visit{Findings: []exam.Finding{{Step: "temp.rectal", Seq: 5, Differ: []exam.Finding{fever}}}}, []int{6}, "something new for the veterinarian"},
		"a needle was not":         {exam.Visit{Injections: []exam.Injection{given}}, []int{7}, "given on another laptop"},
		"another decision was not": {exam.Visit{Decisions: []exam.Decided{stop}}, []int{8}, "Dr Hill said stop"},
	} {
		t.Run(name, func(t *testing.T) {
			d := go1
			d.Without = c.without
			c.v.Decisions = append(c.v.Decisions, d)
			remarks := tell
			if len(c.v.Findings) == 0 {
				remarks = nil
			}
			err := authorization.CheckProcedure(c.v, remarks, p)
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorIs(t, err, exam.ErrRefused)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// Two needles that did not know of each other are told, until a decision knows of both.
func TestTwoNeedlesAreTold(t *testing.T) {
	given := exam.InjectionGiven
	one := exam.Injection{Number: 1, Order: exam.Order{Product: "Product A"}, State: given, GivenML: 1, Unaware: []int{2}, Signed: exam.Signed{Seq: 4, By: "Ann"}}
	two := exam.Injection{Number: 2, Order: exam.Order{Product: "Product A"}, State: given, GivenML: 1, Unaware: []int{1}, Signed: exam.Signed{Seq: 5, By: "Eva"}}
	v := exam.Visit{Injections: []exam.Injection{one, two}}
	told := authorization.Differences(v)
	require.Len(t, told, 2)
	assert.Contains(t, told[0].Why, "It was given on one laptop while another did not know: injection 2 of Product A by Eva. What went in counts.")
	assert.Equal(t, ranges.LevelTell, told[0].Level)

	v.Injections[1].State, v.Injections[1].GivenML = exam.InjectionStopped, 0
	require.Empty(t, authorization.Differences(v), "of the second nothing went in")
	v.Injections[1] = exam.Injection{Number: 2, Order: two.Order, State: exam.InjectionReady, Unaware: []int{1}, Signed: two.Signed}
	told = authorization.Differences(v)
	require.Len(t, told, 2)
	assert.Contains(t, told[1].Why, "It was begun on one laptop while another did not know")
	v.Injections[1] = two

	v.Decisions = []exam.Decided{{Decision: exam.Decision{Vet: "Dr Vale"}, Signed: exam.Signed{Seq: 6}, Without: []int{5}}}
	require.NotEmpty(t, authorization.Differences(v), "it did not know of the second")
	v.Decisions[0].Without = nil
	require.Empty(t, authorization.Differences(v))
}
