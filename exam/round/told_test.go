package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func judging(t require.TestingT) *judge.Judge {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	return judge.New(table, steps.Table())
}

func heart(beats float64) exam.Finding {
	return exam.Finding{Step: "heart.rate", Value: exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: beats, Unit: notation.PerMinute}}}
}

// colic is a horse at a visit for colic that is open.
func colic(id string, findings ...exam.Finding) round.Yard {
	h := horse(id, "2015")
	v := visit(h, today+" 08:00", false, findings...)
	v.ID, v.Reason = exam.VisitID("v-"+id), "colic"
	for i := range v.Findings {
		v.Findings[i].Seq = i + 2
	}
	return round.Yard{Horse: h, Visits: []exam.Visit{v}}
}

// Among horses of which the veterinarian is told: most danger signs seen first, more not looked at among equals, before
// the foals and whoever else waits.
func TestHorsesToTellOfComeFirstByDangerSigns(t *testing.T) {
	looked := []exam.Finding{said("gum.colour", "pink"), said("pain.signs", "flank"), gutOverall()}
	foal := round.Yard{Horse: horse("Foal", "2026-02-25")}
	yard := []round.Yard{
		foal,
		colic("One", append([]exam.Finding{heart(64)}, looked...)...),
		colic("OneOpen", heart(64), said("gum.colour", "pink")),
		colic("Two", heart(64), said("gum.colour", "purple"), said("pain.signs", "flank"), gutOverall()),
		colic("Usual", append([]exam.Finding{heart(36)}, looked[:1]...)...),
	}
	r := plan(t, yard, line(today, foal.Horse, exam.RoundPicked, ""))
	assert.Equal(t, "Two OneOpen One Foal Usual", names(r))
	assert.Equal(t, round.Urgent, r.Calls[0].Group)
	assert.Equal(t, "Danger signs from published studies of colic: 2 of 4 seen", r.Calls[0].Why)
	assert.Equal(t, "Danger signs from published studies of colic: 1 of 4 seen, 2 not checked", r.Calls[1].Why)
	assert.Nil(t, r.Calls[4].Told)

	d := round.NewDocument(r, r.At)
	assert.Equal(t, exam.VisitID("v-Two"), d.Horses[0].Tell)
	assert.Equal(t, 4, d.Horses[0].Danger.Of)
	assert.Nil(t, d.Horses[3].Danger)
}

func gutOverall() exam.Finding {
	f := said("gut.sounds", "heard")
	f.Site = exam.Overall
	return f
}

// A donkey that is dull comes before every count; an animal without a count after those with one.
func TestADullDonkeyComesFirst(t *testing.T) {
	donkey := colic("Donkey", said("demeanour", "dull"))
	donkey.Horse.Kind, donkey.Visits[0].Horse.Kind = exam.AnimalDonkey, exam.AnimalDonkey
	mule := colic("Mule", heart(90))
	mule.Horse.Kind, mule.Visits[0].Horse.Kind = exam.AnimalMule, exam.AnimalMule
	r := plan(t, []round.Yard{mule, colic("Horse", heart(90), said("pain.signs", "rolls"), said("gum.colour", "purple")), donkey})
	assert.Equal(t, "Donkey Horse Mule", names(r))
	assert.Equal(t, "Tell the vet: no count of danger signs applies", r.Calls[2].Why)
}

// Who was told, or closed over a day ago, is not called about first; a sign that may be catching still comes last, and a
// person's word about the turn stands.
func TestWhoIsNotCalledAboutFirst(t *testing.T) {
	told := colic("Told", heart(90))
	told.Visits[0].HandOffs = []exam.HandOff{{Signed: exam.Signed{Seq: 9}}}
	known := colic("Known", heart(90))
	end := at(today + " 08:30")
	known.Visits[0].ClosedAt, known.Visits[0].WithoutHandOff = &end, exam.KnownAlready
	later := colic("Later", heart(90))
	later.Visits[0].ClosedAt, later.Visits[0].WithoutHandOff = &end, exam.HandOffLater
	hot := colic("Hot", temp(39.9, notation.Celsius))
	turned := colic("Turned", heart(90))
	l := line(today, turned.Horse, exam.RoundTurn, "local rules")
	l.Turn = exam.TurnOrdinary
	old := colic("Old", heart(90))
	old.Visits[0].OpenedAt = at("2026-02-28 08:00")
	closed := at("2026-02-28 09:00")
	old.Visits[0].ClosedAt = &closed
	r := plan(t, []round.Yard{told, known, later, hot, turned, old}, l, line(today, old.Horse, exam.RoundPicked, ""))
	groups := map[string]round.Group{}
	for _, c := range r.Calls {
		groups[c.Horse.Name] = c.Group
	}
	assert.Equal(t, map[string]round.Group{
		"Told": round.Ordinary, "Known": round.Ordinary, "Later": round.Urgent, "Hot": round.Fevers, "Turned": round.Ordinary, "Old": round.Ordinary,
	}, groups)
	assert.Equal(t, "Old", r.Calls[len(r.Calls)-2].Horse.Name, "those at tell the vet stand first in their group")
}
