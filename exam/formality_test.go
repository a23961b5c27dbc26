package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// The three sums and names of a product under control: drawn is given and wasted, the
// balance falls by what was drawn, the second person is another (formats, section 5).
func TestAProductUnderControlComesOut(t *testing.T) {
	v := exam.Visit{Injections: []exam.Injection{{Number: 1, Order: exam.Order{Product: "Product C"}, State: exam.InjectionGiven, GivenML: 4, EndBy: "Ann Bell"}}}
	good := exam.Control{Injection: 1, Log: "bottle 12", DrawnML: 5, GivenML: 4, WastedML: 1, WastedHow: "absorbent", BeforeML: 50, AfterML: 45, Second: "Eva Lind"}
	for why, change := range map[string]func(*exam.Control){
		"":                                   func(*exam.Control) {},
		"1 mL are missing":                   func(c *exam.Control) { c.WastedML = 0 },
		"leave 45 mL, not 46 mL":             func(c *exam.Control) { c.AfterML = 46 },
		"recorded as 4 mL":                   func(c *exam.Control) { c.GivenML, c.WastedML = 3, 2 },
		"how what is left was":               func(c *exam.Control) { c.WastedHow = "" },
		"name the second person":             func(c *exam.Control) { c.Second = "" },
		"must not be the person who gave it": func(c *exam.Control) { c.Second = "ann bell" },
		"who gave it or who enters it":       func(c *exam.Control) { c.Second = "Jo Marsh" },
		"A Bell may be Ann Bell, who gave it; if it is somebody else, add who: A Bell, groom": func(c *exam.Control) { c.Second = "A Bell" },
		"J.M. may be Jo Marsh, who enters it":                                                 func(c *exam.Control) { c.Second = "J.M." },
		"which bottle or log":                                                                 func(c *exam.Control) { c.Log = " " },
		"no injection with this":                                                              func(c *exam.Control) { c.Injection = 2 },
		"more than 0 mL was drawn":                                                            func(c *exam.Control) { c.DrawnML, c.GivenML, c.WastedML, c.AfterML = 0, 0, 0, 50 },
	} {
		c := good
		change(&c)
		err := v.CheckFormality(exam.Formality{Control: &c}, "Jo Marsh")
		if why == "" {
			require.NoError(t, err)
			continue
		}
		require.ErrorContains(t, err, why)
	}
	alone := good
	alone.Second, alone.SecondMissing = "", true
	require.NoError(t, v.CheckFormality(exam.Formality{Control: &alone}, "Jo Marsh"))
	said := good
	said.Second = "A Bell, groom"
	require.NoError(t, v.CheckFormality(exam.Formality{Control: &said}, "Jo Marsh"), "who it is was said")
	assert.Equal(t, "under control, injection 1 of Product C, bottle 12: drawn 5 mL, given 4 mL, wasted 1 mL; wasted: absorbent; balance 50 mL before, 45 mL after; second person: Eva Lind",
		exam.Formality{Control: &good}.Words(v))
}

func TestConsentAndWhoWasThere(t *testing.T) {
	v := exam.Visit{}
	c := exam.Consent{By: "J. Marlowe", For: "sedation", How: "by telephone", Refused: true, Words: "not today"}
	require.NoError(t, v.CheckFormality(exam.Formality{Consent: &c}, "Ann"))
	assert.Equal(t, `consent to sedation refused by J. Marlowe, said, by telephone; "not today"`, exam.Formality{Consent: &c}.Words(v))
	for _, bad := range []exam.Consent{{For: "x", How: "in writing"}, {By: "J", How: "in writing"}, {By: "J", For: "x"}, {By: "J", For: "x", How: "shouted"}} {
		require.Error(t, v.CheckFormality(exam.Formality{Consent: &bad}, "Ann"), "%+v", bad)
	}
	a := exam.Attendance{Handler: "P. Duarte", ExaminedBy: "Ann Bell", ExaminedRole: "technician", SupervisedBy: "Dr. R. Sommer", SupervisedRole: "veterinarian"}
	assert.Equal(t, "handler: P. Duarte; examined by: Ann Bell, technician; supervised by: Dr. R. Sommer, veterinarian", exam.Formality{Attendance: &a}.Words(v))
	require.Error(t, v.CheckFormality(exam.Formality{Attendance: &exam.Attendance{}}, "Ann"))
	require.Error(t, v.CheckFormality(exam.Formality{}, "Ann"))
}
