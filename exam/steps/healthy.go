package steps

import (
	"loosebox/exam"
	"loosebox/ranges"
)

// What a healthy simulated horse is drawn from where no range is held. Nothing is judged by these figures.

// adultSeconds are the seconds of an adult's refill (PENNP), assumed for the classes without a row.
func adultSeconds(ranges.Class) exam.Span { return exam.Span{Low: 1, High: 2} }

// usualHeightCm are heights of grown horses to draw from: from memory.
func usualHeightCm(c ranges.Class) exam.Span {
	switch c {
	case ranges.Draft:
		return exam.Span{Low: 163, High: 178}
	case ranges.Pony, ranges.SmallMareInFoal:
		return exam.Span{Low: 115, High: 145}
	case ranges.Miniature:
		return exam.Span{Low: 75, High: 95}
	default: // every other class is about the size of a light horse, or does not ask
		return exam.Span{Low: 152, High: 170}
	}
}

// usualKg are weights to draw from where a case gives none: from memory.
func usualKg(c ranges.Class) exam.Span {
	switch c {
	case ranges.Draft:
		return exam.Span{Low: 700, High: 950}
	case ranges.Pony, ranges.SmallMareInFoal:
		return exam.Span{Low: 220, High: 380}
	case ranges.Miniature:
		return exam.Span{Low: 70, High: 110}
	case ranges.DonkeyAdult:
		return exam.Span{Low: 150, High: 200}
	case ranges.DonkeyYoung:
		return exam.Span{Low: 80, High: 150}
	case ranges.DonkeyFirstDay, ranges.DonkeyNewborn, ranges.DonkeyFirstMonth, ranges.DonkeyToSixMonths, ranges.DonkeyFoalUnknown:
		return exam.Span{Low: 20, High: 90}
	case ranges.Mule:
		return exam.Span{Low: 330, High: 450}
	case ranges.FoalFirstHour, ranges.FoalFirstHours, ranges.FoalFirstDay, ranges.FoalFirstWeek, ranges.MuleFoalFirstDay,
		ranges.MuleFoalFirstWeek:
		return exam.Span{Low: 45, High: 60}
	case ranges.FoalFirstMonth, ranges.MuleFoalFirstMonth:
		return exam.Span{Low: 60, High: 95}
	case ranges.FoalToSixMonths, ranges.FoalAgeUnknown, ranges.MuleFoalSixMonths, ranges.MuleFoalUnknown:
		return exam.Span{Low: 100, High: 240}
	case ranges.Weanling, ranges.MuleWeanling:
		return exam.Span{Low: 220, High: 300}
	case ranges.Yearling:
		return exam.Span{Low: 290, High: 380}
	case ranges.TwoThree:
		return exam.Span{Low: 400, High: 510}
	case ranges.AdultLight, ranges.MareInFoal:
	}
	return exam.Span{Low: 450, High: 600}
}
