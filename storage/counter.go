package storage

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"loosebox/storage/outside"
)

// CountName is the name of the file beside the record that remembers how far this
// machine's chain had come. It is how an older copy of the record, put in the
// place of the newer one, is noticed.
const CountName = "machine.count"

const countHead = "loosebox machine count 1"

// reached is how far a machine's chain had come, as the file says.
type reached struct {
	machine id
	count   uint64
	sum     [32]byte
}

// Gap is a part of a machine's chain that is not in the record although it was
// written: lines From to To, both included.
type Gap struct {
	Machine string `json:"machine"`
	From    uint64 `json:"from"`
	To      uint64 `json:"to"`
}

// rowGaps is the row of meta that holds the gaps that were found.
const rowGaps = "gaps"

func readReached(dir string) (r reached, ok bool, err error) {
	data, err := outside.ReadFile(filepath.Join(dir, CountName), 4<<10)
	if errors.Is(err, fs.ErrNotExist) {
		return r, false, nil
	}
	if err != nil {
		return r, false, fmt.Errorf("read how far this machine's lines had come: %w", err)
	}
	var name, sum string
	if _, err := fmt.Sscanf(string(data), countHead+"\n%s %d %s", &name, &r.count, &sum); err != nil {
		return r, false, nil // cut by a power failure: nothing is known
	}
	n, err1 := hex.DecodeString(name)
	s, err2 := hex.DecodeString(sum)
	if err1 != nil || err2 != nil || len(n) != 16 || len(s) != 32 {
		return r, false, nil
	}
	r.machine, r.sum = id(n), [32]byte(s)
	return r, true, nil
}

func (r reached) write(dir string) error {
	text := fmt.Sprintf("%s\n%x %d %x\n", countHead, r.machine[:], r.count, r.sum[:])
	temp, err := writeTemp(dir, CountName, []byte(text))
	if err != nil {
		return err
	}
	if err := os.Rename(temp, filepath.Join(dir, CountName)); err != nil {
		_ = os.Remove(temp)
		return err
	}
	return nil
}

// compareReached notes in the record what the file beside it says is missing.
func (r *Record) compareReached() error {
	dir := filepath.Dir(r.path)
	was, ok, err := readReached(dir)
	if err != nil || !ok || was.machine != r.machine.name || was.count == 0 {
		return err
	}
	var gap *Gap
	err = r.view(func(tx txn) error {
		gap, err = was.missing(tx)
		return err
	})
	if err != nil || gap == nil {
		return err
	}
	return r.update(func(tx txn) error {
		gaps, err := readGaps(tx)
		if err != nil {
			return err
		}
		if slices.Contains(gaps, *gap) {
			return nil
		}
		r.found = append(r.found, *gap)
		data, err := json.Marshal(append(gaps, *gap))
		if err != nil {
			return fmt.Errorf("write what is missing: %w", err)
		}
		return putRow(tx, bucketMeta, []byte(rowGaps), data)
	})
}

// missing compares what was reached with the chain; nil where nothing is missing.
func (r reached) missing(tx txn) (*Gap, error) {
	last, err := lastLink(tx, r.machine)
	if err != nil {
		return nil, err
	}
	gap := &Gap{Machine: r.machine.String(), From: last.count + 1, To: r.count}
	if last.count < r.count {
		return gap, nil
	}
	data, err := getRow(tx, bucketChain, r.machine.counted(r.count))
	if err != nil {
		return nil, err
	}
	l, err := decodeLink(r.count, data)
	if err != nil {
		return nil, err
	}
	if l.sum != r.sum { // another line is in its place
		gap.From = r.count
		return gap, nil
	}
	return nil, nil
}

func readGaps(tx txn) ([]Gap, error) {
	data, err := getRow(tx, bucketMeta, []byte(rowGaps))
	if err != nil || data == nil {
		return nil, err
	}
	var gaps []Gap
	if err := json.Unmarshal(data, &gaps); err != nil {
		return nil, damaged("what is known to be missing cannot be read (%v)", err)
	}
	return gaps, nil
}

// Missing lists what was found at this opening to be missing from the record: it
// ends before lines that this machine had written. Each is found once; Check
// goes on to report it.
func (r *Record) Missing() []Gap { return slices.Clone(r.found) }

// remember writes how far this machine's chain has come; it is no loss where that
// fails, and the next close does it.
func (r *Record) remember() {
	if r.readOnly || r.machine == nil || r.stuck.Load() {
		return
	}
	var last link
	err := r.view(func(tx txn) (err error) {
		last, err = lastLink(tx, r.machine.name)
		return err
	})
	if err != nil || last.count == 0 || last.count == r.remembered {
		return
	}
	if (reached{r.machine.name, last.count, last.sum}).write(filepath.Dir(r.path)) == nil {
		r.remembered = last.count
	}
}
