package trial

import _ "embed"

// estimateText is how the first estimate of a place's weather does beside
// measured weather; package climatology's tests make it.
//
//go:embed data/first_estimate.md
var estimateText string
