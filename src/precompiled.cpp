// Every header with its bodies, compiled once, for the library faultodds::precompiled.
#include "faultodds/faultodds.hpp"
#include "faultodds/io/io.hpp"
#include "faultodds/report/report.hpp"
