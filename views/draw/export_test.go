package draw

// Scales is scales, for tests.
var Scales = scales
