package sums

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Drip is a rate of flow, or how long what is left runs, in minutes; null where it was not asked.
type Drip struct {
	Schema         string   `json:"schema"`
	MLPerHour      *float64 `json:"ml_per_hour"`
	DropsPerMin    float64  `json:"drops_per_min"`
	DropsPerSecond *float64 `json:"drops_per_second"`
	SecondsPerDrop *float64 `json:"seconds_per_drop"`
	LeftMin        *float64 `json:"left_min"`
	Warnings       []string `json:"warnings"`

	working, source []string
}

func drip() Sum {
	return Sum{
		ID: "drip", Name: "drip", Does: "drops a minute; how long it runs",
		Begin: func(in In) Values {
			v := beginBody(in)
			v["way"], v["drops"] = "time", "10/mL"
			return v
		},
		Work: workDrip, Fields: dripFields,
	}
}

func dripFields(in In) []Field {
	unless := func(ways ...string) func(Values) bool {
		return func(v Values) bool {
			for _, w := range ways {
				if v.Get("way") == w {
					return false
				}
			}
			return true
		}
	}
	body := bodyFields(in, true)
	body[0].Hidden = unless("rate")
	by := body[1].Hidden
	body[1].Hidden = func(v Values) bool { return v.Get("way") != "rate" || by(v) }
	return append([]Field{
		{Key: "way", Label: "sum", Ask: "what is ordered or counted", Needed: true, Choices: []exam.Choice{
			{Key: "time", Words: "a volume in a time"}, {Key: "rate", Words: "a rate by weight"}, {Key: "left", Words: "how long it still runs"},
		}},
		{Key: "volume", Label: "volume", Ask: "the volume ordered, or what is left, 5L", Needed: true, Check: refusing(volume.ParseML), Hidden: unless("time", "left")},
		{Key: "over", Label: "in", Ask: "the time it runs in, as ordered, 8h or 90min", Needed: true, Check: refusing(readMinutes), Hidden: unless("time")},
		{Key: "rate", Label: "rate", Ask: "the rate as the veterinarian ordered it, in mL/kg/day or mL/kg/h", Needed: true, Check: refusing(readRate), Hidden: unless("rate")},
		{Key: "counted", Label: "counted", Ask: "the drops counted in a minute, 40/min", Needed: true, Check: refusing(readPerMinute), Hidden: unless("left")},
		{Key: "drops", Label: "drops a mL", Ask: "the drops a mL on the packet of the set, 10/mL", Needed: true, Check: refusing(readDrops)},
	}, body...)
}

func workDrip(in In, v Values) (Outcome, error) {
	if err := complete(dripFields(in), v); err != nil {
		return nil, err
	}
	drops, err := readDrops(v.Get("drops"))
	if err != nil {
		return nil, err
	}
	d := Drip{Schema: "loosebox/volume-drip/1", Warnings: []string{}, source: volume.DripSource()}
	switch v.Get("way") {
	case "rate":
		return d.byRate(in, v, drops)
	case "left":
		return d.left(v, drops)
	case "time":
		return d.inTime(v, drops)
	}
	return nil, &notation.Refusal{Why: "the sum is one of: time, rate, left"}
}

func (d Drip) inTime(v Values, drops float64) (Outcome, error) {
	ml, err := volume.ParseML(v.Get("volume"))
	if err != nil {
		return nil, err
	}
	minutes, err := readMinutes(v.Get("over"))
	if err != nil {
		return nil, err
	}
	flow, err := volume.Flow(ml, drops, minutes)
	if err != nil {
		return nil, err
	}
	d.working = []string{fmt.Sprintf("%s mL x %s drops/mL / %s min = %s drops/min", volume.Plain(ml), volume.Plain(drops), volume.Plain(minutes), volume.Plain(flow.DropsPerMin))}
	return d.of(flow), nil
}

func (d Drip) byRate(in In, v Values, drops float64) (Outcome, error) {
	w, err := neededWeight(in, v)
	if err != nil {
		return nil, err
	}
	rate, err := readRate(v.Get("rate"))
	if err != nil {
		return nil, err
	}
	flow, err := volume.FlowByWeight(rate, w.Kg, drops)
	if err != nil {
		return nil, err
	}
	d.Warnings, d.source = texts(w.Warnings()), append(d.source, weightSource(w, in)...)
	d.working = []string{
		w.Line(), fmt.Sprintf("%s mL/kg/day x %s kg / 24 h = %s mL/h", volume.Plain(rate), volume.Plain(w.Kg), volume.Plain(flow.MLPerHour)),
		fmt.Sprintf("x %s drops/mL / 60 = %s drops/min", volume.Plain(drops), volume.Plain(flow.DropsPerMin)),
	}
	return d.of(flow), nil
}

func (d Drip) left(v Values, drops float64) (Outcome, error) {
	ml, err := volume.ParseML(v.Get("volume"))
	if err != nil {
		return nil, err
	}
	perMin, err := readPerMinute(v.Get("counted"))
	if err != nil {
		return nil, err
	}
	minutes, err := volume.LeftMinutes(ml, drops, perMin)
	if err != nil {
		return nil, err
	}
	d.LeftMin, d.DropsPerMin = &minutes, perMin
	d.working = []string{fmt.Sprintf("%s mL x %s drops/mL / %s drops/min = %s min", volume.Plain(ml), volume.Plain(drops), volume.Plain(perMin), volume.Plain(minutes))}
	return d, nil
}

func (d Drip) of(f volume.Drip) Drip {
	d.MLPerHour, d.DropsPerMin, d.DropsPerSecond, d.SecondsPerDrop = &f.MLPerHour, f.DropsPerMin, &f.DropsPerSecond, &f.SecondsPerDrop
	return d
}

// Result says how the drip is set and checked, or how long it runs.
func (d Drip) Result() Result {
	r := Result{Working: d.working, Warnings: d.Warnings, Source: d.source}
	if d.LeftMin != nil {
		r.Head = fmt.Sprintf("runs another %s min (%s h)", notation.FormatNumber(*d.LeftMin, 0), notation.FormatNumber(*d.LeftMin/60, 1))
		return r
	}
	r.Head = fmt.Sprintf("%s drops a minute", notation.FormatNumber(d.DropsPerMin, 0))
	r.More = []string{fmt.Sprintf("%s mL an hour; %s drops a second, a drop every %s s", notation.FormatNumber(*d.MLPerHour, 0), notation.FormatNumber(*d.DropsPerSecond, 1), notation.FormatNumber(*d.SecondsPerDrop, 2))}
	return r
}
