package storage

import (
	"context"
	"fmt"
)

// copyLogs copies what is not derived, as it is.
func (a *anew) copyLogs(ctx context.Context) error {
	err := a.write(func(tx txn) error {
		if _, err := tx.CreateBucket([]byte(bucketMeta)); err != nil {
			return err //nolint:wrapcheck // explained by the caller
		}
		for _, b := range namespaces() {
			if err := emptyDerived(tx.in(b)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	return a.of.run(a.of.db.View, func(from txn) error {
		for _, name := range []string{bucketSettings, bucketLogs, bucketLines, bucketPacks, bucketAside, bucketMeta} {
			if err := a.copyBucket(ctx, from, name); err != nil {
				return err
			}
		}
		return nil
	})
}

func (a *anew) copyBucket(ctx context.Context, from txn, name string) error {
	rows, err := bucket(from, name)
	if err != nil {
		return err
	}
	c := rows.Cursor()
	for key, row := c.First(); ; {
		if err := ctx.Err(); err != nil {
			return err
		}
		err := a.write(func(tx txn) error {
			into, err := tx.CreateBucketIfNotExists([]byte(name))
			if err != nil {
				return err //nolint:wrapcheck // explained by the caller
			}
			into.FillPercent = appendFill
			for n, size := 0, 0; key != nil && n < inOne && size < atOnceBytes; n++ {
				if name != bucketMeta || !derivedMeta(string(key)) {
					if err := into.Put(key, row); err != nil {
						return fmt.Errorf("write %s: %w", name, err)
					}
				}
				size += len(row)
				key, row = c.Next()
			}
			return nil
		})
		if err != nil || key == nil {
			return err
		}
	}
}

// derivedMeta says of a row of meta that it follows from the lines.
func derivedMeta(key string) bool {
	for _, b := range namespaces() {
		if key == string(b)+rowTotals || key == string(b)+rowWaiting {
			return true
		}
	}
	return key == rowJoins || key == rowGroups
}
