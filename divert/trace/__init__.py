"""Any figure walked back to the bucket: rows, densities, factors and sources."""

from divert.trace.parts import TraceFactor, TraceRow
from divert.trace.telling import trace_json, trace_lines
from divert.trace.walk import Trace, trace

__all__ = ["Trace", "TraceFactor", "TraceRow", "trace", "trace_json", "trace_lines"]
