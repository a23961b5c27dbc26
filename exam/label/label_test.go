package label_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/label"
)

func dose(item, product string, state exam.InjectionPhase) exam.Injection {
	return exam.Injection{Order: exam.Order{Item: item, Product: product, Maker: "Maker H"}, State: state, Signed: exam.Signed{By: "Ann Bell", At: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}}
}

// What was typed last holds; what says nothing about the package is passed over.
func TestLast(t *testing.T) {
	other := dose("09506000134352", "Vaccine A", exam.InjectionGiven)
	other.GivenProduct = "Vaccine B"
	never := dose("09506000134352", "Vaccine C", exam.InjectionStopped)
	never.On = "2025"
	visits := []exam.Visit{
		{Injections: []exam.Injection{other, never, dose("", "Vaccine D", exam.InjectionGiven)}},
		{Injections: []exam.Injection{dose("09506000134352", "Vaccine E", exam.InjectionGiven), dose("09506000134352", "Vaccine F", exam.InjectionStopped)}},
	}
	k, ok := label.Last("09506000134352", visits)
	assert.True(t, ok)
	assert.Equal(t, "Vaccine F", k.Product)
	assert.Equal(t, "Ann Bell", k.By)
	_, ok = label.Last("", visits)
	assert.False(t, ok)
	_, ok = label.Last("00000096385074", visits)
	assert.False(t, ok)
}

func TestItem(t *testing.T) {
	item, err := label.Item("036000291452")
	assert.NoError(t, err)
	assert.Equal(t, "00036000291452", item)
	for _, wrong := range []string{"036000291453", "A", "0360002914521"} {
		_, err := label.Item(wrong)
		assert.Error(t, err, wrong)
	}
}
