package round

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
)

// Reader keeps the round of a day that it read last, and reads it again for the horses of
// which something changed since. One reading runs at a time; others wait for it and go on
// from what it found. The zero value has read nothing, and a nil Reader keeps nothing. It is safe for use by several
// goroutines.
type Reader struct {
	mu    sync.Mutex
	round Round
	seen  map[exam.HorseID]stamp
}

// keptFor is how long a horse stands as it was read: what is due goes by the clock too.
const keptFor = 2 * time.Minute

// stamp is by what a change of a horse is known.
type stamp struct {
	visits  int
	lastAt  time.Time
	open    exam.VisitID
	outline uint64 // exam.Found.Stamp
	written int    // revision of the horse
	lines   int    // of the round
}

// Read is the round of a day, as Read of the package makes it. A reading that is given up
// with ctx leaves what was kept as it was.
func (k *Reader) Read(ctx context.Context, store exam.Store, day string, now time.Time, schedule *due.Table, j *judge.Judge) (Round, error) {
	if k == nil {
		return Read(ctx, store, day, now, schedule, j)
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return Round{}, err
	}
	horses, err := store.Horses()
	if err != nil {
		return Round{}, fmt.Errorf("the list of horses cannot be read; nothing was changed: %w", err)
	}
	lines, err := store.RoundLines(From(day), day)
	if err != nil {
		return Round{}, fmt.Errorf("the round of %s cannot be read; nothing was changed: %w", day, err)
	}
	of := map[exam.HorseID]int{}
	for _, l := range lines {
		of[l.Horse]++
	}
	from := k.round
	if age := now.Sub(from.At); from.Day != day || age < 0 || age > keptFor {
		from, k.seen = Round{Day: day}, nil
	}
	fresh := make(map[exam.HorseID]stamp, len(horses))
	var changed []exam.HorseID
	for _, f := range horses {
		id := f.Horse.ID
		s := stamp{f.Visits, f.LastAt, f.Open, f.Stamp, f.Horse.Revision, of[id]}
		if old, ok := k.seen[id]; !ok || f.Open != "" || !old.same(s) {
			changed = append(changed, id)
		}
		fresh[id] = s
	}
	// A horse that was joined to another is listed no more.
	from.Calls = slices.DeleteFunc(slices.Clone(from.Calls), func(c Call) bool { _, listed := fresh[c.Horse.ID]; return !listed })
	out, err := again(ctx, store, from, now, schedule, j, changed...)
	if err != nil {
		return Round{}, err
	}
	kept := out
	if !from.At.IsZero() {
		kept.At = from.At // the oldest of what is kept
	}
	k.round, k.seen = kept, fresh
	return out, nil
}

func (s stamp) same(o stamp) bool {
	at := s.lastAt.Equal(o.lastAt)
	s.lastAt, o.lastAt = time.Time{}, time.Time{}
	return at && s == o
}
