#include "places.h"

const char* source_root() { return OHMLEAF_SOURCE_ROOT; }
const char* test_data() { return OHMLEAF_SOURCE_ROOT "/tests/data"; }
