package score

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Heat is the sum of air temperature in Fahrenheit and relative humidity.
type Heat struct {
	Result
	Sum   float64      // Fahrenheit and percent added
	AirF  float64      // in Fahrenheit
	Level ranges.Level // usual under 130, note from 130, recheck over 150, tell over 180
}

// HeatSum adds air temperature and relative humidity in percent. The sum has a
// meaning in Fahrenheit only; Celsius is converted. The error is a *notation.Refusal.
func HeatSum(air notation.Quantity, humidity float64) (Heat, error) {
	f, ok := air.In(notation.Fahrenheit)
	if !ok || !(f.Value >= -60 && f.Value <= 140) {
		return Heat{}, &notation.Refusal{Why: "the air temperature is not possible; it is given in C or F"}
	}
	if !(humidity >= 0 && humidity <= 100) {
		return Heat{}, &notation.Refusal{Why: "the relative humidity lies between 0 and 100 %"}
	}
	h := Heat{AirF: f.Value, Sum: f.Value + humidity, Result: Result{Basis: Basis{
		Name: "Heat index", Range: "degrees F plus relative humidity in %: under 130, 130 to 150, over 150, over 180",
		Source: "eXtension Horses, as printed at equinechronicle.com, is it too hot to trot", Evidence: ranges.Published,
		Note: "It shows how hard it is for a horse to cool itself. Sun and wind are not included. Older rules begin at 120.",
	}}}
	h.Items = []Item{
		{Name: itemAir, Found: text(f.Value, notation.Fahrenheit), Says: text((f.Value-32)/1.8, notation.Celsius), Count: f.Value},
		{Name: itemHumidity, Found: notation.FormatNumber(humidity, 0) + " %", Says: "as read", Count: humidity},
	}
	h.Level, h.Words = heatBand(h.Sum, humidity)
	return h, nil
}

func heatBand(sum, humidity float64) (ranges.Level, string) {
	const slack = 1e-9
	level, words := ranges.LevelUsual, "under 130, most horses cope"
	switch {
	case sum > 180+slack:
		level, words = ranges.LevelTell, "over 180, a horse hardly cools itself any more"
	case sum > 150+slack:
		level, words = ranges.LevelRecheck, "over 150, cooling is reduced: watch temperature, heart and breaths"
	case sum >= 130-slack:
		level, words = ranges.LevelNote, "130 to 150, a horse at work needs help to cool"
	case humidity > 75:
		level, words = ranges.LevelNote, "under 130, but humidity over 75 % hinders sweat from drying"
	}
	if humidity > sum/2 && sum >= 130-slack {
		words += "; more so as humidity makes up over half"
	}
	return level, fmt.Sprintf("%s, %s", notation.FormatNumber(sum, 0), words)
}

// WetBulbGlobe says what a measured wet-bulb globe temperature means at
// competitions. The error is a *notation.Refusal.
func WetBulbGlobe(t notation.Quantity) (Result, error) {
	c, ok := t.In(notation.Celsius)
	if !ok || !(c.Value >= -40 && c.Value <= 60) {
		return Result{}, &notation.Refusal{Why: "that wet-bulb globe temperature is not possible; it is given in C or F"}
	}
	words := "up to 28 C"
	switch {
	case c.Value > 33+1e-9:
		words = "over 33 C, where competitions may be stopped"
	case c.Value > 28+1e-9:
		words = "over 28 C, where competitions begin to take measures"
	}
	return Result{
		Basis: Basis{
			Name: "Wet-bulb globe temperature", Range: "up to 28, over 28, over 33 C",
			Source: "FEI measures at Versailles 2024, equnews.com; Equestrian Australia, hot weather policy", Evidence: ranges.Published,
			Note: "Set for fit horses at competitions.",
		},
		Words: text(c.Value, notation.Celsius) + ", " + words,
		Items: []Item{{Name: itemMeasured, Found: t.Text(1), Says: text(c.Value, notation.Celsius), Count: c.Value}},
	}, nil
}
