// Every header with its bodies, compiled once, for the library faultodds::precompiled.
#include "faultodds/faultodds.hpp"
#include "faultodds/io/bif.hpp"
#include "faultodds/io/model_json.hpp"
#include "faultodds/io/text_file.hpp"
