package exam

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"sync"
)

// rehearsalSource is the form of Opening.Source in a rehearsal; no file that visits are imported from is named so.
var rehearsalSource = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^rehearsal ([a-z0-9-]+) seed (\d+) of ([0-9a-f]{12})$`)
})

// SimulatedSource is the source of the opening of a rehearsal: a case, a seed and the digest of the case's file.
func SimulatedSource(name string, seed uint64, digest string) string {
	return fmt.Sprintf("rehearsal %s seed %d of %s", name, seed, digest)
}

// ReadSimulatedSource reads what SimulatedSource wrote; false where a visit is no rehearsal.
func ReadSimulatedSource(source string) (name string, seed uint64, digest string, ok bool) {
	m := rehearsalSource().FindStringSubmatch(source)
	if m == nil {
		return "", 0, "", false
	}
	seed, err := strconv.ParseUint(m[2], 10, 64)
	if err != nil {
		return "", 0, "", false
	}
	return m[1], seed, m[3], true
}

// IsRehearsal says that the visit is of a simulated horse.
func (o Opening) IsRehearsal() bool {
	_, _, _, ok := ReadSimulatedSource(o.Source)
	return ok
}

// CheckApart is called by a store before a visit begins, so that no rehearsal can ever stand among the visits of real horses,
// and no real visit among rehearsals.
func CheckApart(o Opening, amongRehearsals bool) error {
	switch simulated := o.IsRehearsal(); {
	case simulated && !amongRehearsals:
		return errors.New("this is the rehearsal of a simulated horse, which is never kept among real visits; nothing was saved")
	case !simulated && amongRehearsals:
		return errors.New("this is no rehearsal of a simulated horse, and only those are kept here; nothing was saved")
	}
	return nil
}
