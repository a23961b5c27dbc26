// Package explain says where a number comes from, for the person who asks: how it was measured and by which formula, the
// range it stands beside, the horse's own range, what its change is worth and what was remarked, each with its source
// and how sure that is. Every screen with numbers on it asks here, so that one finding is explained the same everywhere.
package explain
