# SPDX-License-Identifier: BSD-3-Clause
"""Functions of the package, by room."""
