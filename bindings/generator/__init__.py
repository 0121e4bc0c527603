# SPDX-License-Identifier: BSD-3-Clause
"""What bindings/generate.py is made of."""
