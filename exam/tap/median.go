package tap

// median reorders x and returns its median; x holds at least one number and no NaN.
func median(x []float64) float64 {
	n := len(x)
	hi := pick(x, n/2)
	if n%2 == 1 {
		return hi
	}
	lo := x[0]
	for _, v := range x[:n/2] {
		lo = max(lo, v)
	}
	return (lo + hi) / 2
}

// pick reorders x so that x[k] is its k-th smallest number and everything before it is no larger.
func pick(x []float64, k int) float64 {
	lo, hi := 0, len(x)-1
	for lo < hi {
		p := middle(x[lo], x[lo+(hi-lo)/2], x[hi])
		i, j := lo, hi
		for i <= j {
			for x[i] < p {
				i++
			}
			for x[j] > p {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return x[k]
		}
	}
	return x[k]
}

func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }
