package storage

import (
	"context"

	"loosebox/exam"
	"loosebox/exam/progress"
)

// Walk hands on what every line of the visits says: all revisions of every horse first,
// then each visit's entries in order, then the lines of the rounds by day. At the first
// line that is damaged it stops with an error that wraps exam.ErrDamaged. Visits of
// simulated horses are not among them. Lines of horses that are joined have the number of the
// one that leads.
func (r *Record) Walk(ctx context.Context, horse func(exam.HorseLine) error, visit func([]exam.Entry) error, round func(exam.RoundLine) error) error {
	return r.view(func(tx txn) error {
		g, err := readGroups(tx)
		if err != nil {
			return err
		}
		lead := func(h exam.HorseID) exam.HorseID {
			if key, ok := parseID(string(h)); ok {
				return g.lead(key).horse()
			}
			return h
		}
		err = eachKey(tx, bucketHorseLines, func(key id) error {
			said, err := revisions(tx, key)
			if err != nil {
				return err
			}
			for _, l := range said {
				l.Horse.ID = lead(l.Horse.ID)
				if err := horse(l); err != nil {
					return err
				}
			}
			return ctx.Err()
		})
		if err != nil {
			return err
		}
		n, err := readTotals(tx)
		if err != nil {
			return err
		}
		done := 0
		err = eachRow(tx, bucketVisits, func(key, data []byte) error {
			h, err := decodeHead(data)
			if err != nil || h.waiting {
				return err
			}
			list, _, err := readEntries(tx, id(key), h)
			if err != nil {
				return err
			}
			if o := list[0].Opening; o != nil {
				o.Horse.ID = lead(o.Horse.ID)
			}
			if err := visit(list); err != nil {
				return err
			}
			done++
			progress.Say(ctx, "visits", min(done, n.visits), n.visits)
			return ctx.Err()
		})
		if err != nil {
			return err
		}
		return eachOfRound(tx, "", maxDay, func(l exam.RoundLine) error {
			l.Horse = lead(l.Horse)
			return round(l)
		})
	})
}
