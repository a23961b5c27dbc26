package storage

import (
	"fmt"
	"io"
)

// Copy writes the record as it is at one moment, a file that Open takes, to what
// begin returns for its size in bytes. Writers go on meanwhile, but for one that
// needs a larger file, which waits: what is copied to should be fast.
func (r *Record) Copy(begin func(size int64) (io.Writer, error)) error {
	return r.view(func(tx txn) error {
		size := tx.Size()
		w, err := begin(size)
		if err != nil {
			return err
		}
		n, err := tx.WriteTo(w)
		if err != nil {
			return fmt.Errorf("copy the record: %w", err)
		}
		if n != size {
			return fmt.Errorf("copy the record: %d bytes of %d were written", n, size)
		}
		return nil
	})
}

// Reached says who this machine is, by its key, and how far its log of visits has come;
// 0 where it wrote none, or its key cannot be read.
func (r *Record) Reached() (machine string, lines uint64, err error) {
	if r.machine == nil {
		return "", 0, nil
	}
	err = r.view(func(tx txn) error {
		own, err := currentLog(tx.in(visitsNamespace))
		if own != nil {
			lines = own.N
		}
		return err
	})
	return r.machine.name(), lines, err
}

// BeginAnew ends this machine's logs in the record: what it writes next stands in new
// ones. It is called of a copy, because the record that it was copied from may go on
// under the same key. The copy is a record of its own from then on.
func (r *Record) BeginAnew() error {
	return r.update(func(tx txn) error {
		for _, b := range namespaces() {
			log, err := currentLog(tx.in(b))
			if err != nil {
				return err
			}
			if log == nil {
				continue
			}
			log.Doubt = true
			if err := log.write(tx); err != nil {
				return err
			}
		}
		return renumber(tx)
	})
}
