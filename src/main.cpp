// SPDX-License-Identifier: BSD-3-Clause
#include "program.hpp"

int main(int argc, char** argv) { return faultodds::program::run(argc, argv); }
