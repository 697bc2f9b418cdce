package draw_test

import (
	"testing"

	"newelbook/checklist/layout/layouttest"
)

func TestMain(m *testing.M) { layouttest.Main(m) }
