//go:build !unix

package outside

// noWait is of no use where no pipe has a name like a file's.
const noWait = 0
