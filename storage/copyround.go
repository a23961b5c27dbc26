package storage

import (
	"encoding/json"
	"fmt"

	"loosebox/exam"
)

// round takes one line of a day's round. A line that is here already, under whatever
// number, is passed over; where the day has other lines it follows the last of them,
// as it would have had it been written here.
func (a *adoption) round(l exam.Line) error {
	if len(a.summaries) > 0 { // its horse may be one of this import
		if err := a.finish(); err != nil {
			return err
		}
		clear(a.summaries)
	}
	line, err := exam.UnsealRound(l)
	if err != nil {
		return err
	}
	line = exam.CleanRoundLine(line)
	if err := line.Check(); err != nil {
		return err
	}
	same, wanted := false, withoutNumber(line)
	err = eachOfRound(a.tx, line.Day, line.Day, func(old exam.RoundLine) error {
		same = same || withoutNumber(old) == wanted
		return nil
	})
	if err != nil {
		return err
	}
	if same {
		a.done.Known++
		return nil
	}
	a.done.Rounds++
	return addToRound(a.tx, line)
}

// withoutNumber is what a line of a round says, in one comparable text.
func withoutNumber(l exam.RoundLine) string {
	l.Seq, l.At = 0, l.At.UTC()
	data, err := json.Marshal(l)
	if err != nil {
		return fmt.Sprint(l)
	}
	return string(data)
}
