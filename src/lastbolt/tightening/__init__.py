"""Tightening: preload and torque, stripping, general torques and where there are none, orders, states."""
