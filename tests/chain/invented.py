"""A chain of a thousand invented shops in the form of `coilwright export --sets --by-month --compress`, and two questions to it.

    pip install duckdb==2.0.1
    python tests/chain/invented.py 10000000 FOLDER     makes so many sets below FOLDER, which must not be there yet
    python tests/chain/invented.py ask FOLDER          asks, and tells the times

Nobody measured these figures: they are sums of hashes. `tests/paper/flat.rs` holds the names to those of the program.
"""

import sys
import time

import duckdb

MAKE = """
copy (
 with session as (
  select s as id, s % 1000 as shop, 1 + s % 5 as sets, hash(s) as h,
    timestamp '2026-01-01 08:00:00' + to_minutes((s * 7 % 525000)::bigint) as opened
  from range({sets} // 3) as t(s)),
 row as (
  select *, unnest(range(1, sets + 1)) as set from session),
 figure as (
  select *, 130 + 10 * (h % 7) as travel, 24 + (h // 7 % 130) / 10.0 + (sets - set) * (case when h % 2 = 0 then 1.3 else -1.3 end) as sag,
   hash(h, set) as g from row)
 select printf('shop-%04d', shop) as shop,
  strftime(opened, '%Y-%m') as month,
  strftime(opened, '%Y-%m-%d-%H%M-') || printf('%06x', id) as session,
  strftime(opened, '%Y-%m-%dT%H:%M:%SZ') as opened_utc, 60 as utc_offset_minutes, false as demonstration,
  case when h % 20 = 0 then 'decision' else 'closed' end as step, null::varchar as customer, null::varchar as bike,
  60.0 + h // 11 % 500 / 10.0 as rider_kg, 16.0 as bike_kg, travel::double as travel_mm, 60.0 as stroke_mm,
  30.0 as target_percent, 1.5 as tolerance_percent, set as set, set as spring,
  (350 + 25 * (h // 13 % 12))::double as rate_lb_in, (g % 3) / 2.0 as preload_turns, (g % 3) / 2.0 as preload_mm,
  2 as readings_used, (g % 9 = 0)::int as readings_void, round(sag * 0.6, 3) as average_mm, 0.35 as u_average_mm,
  0.4 as scatter_mm, round(sag, 3) as sag_percent, 0.7 as u_sag_percent, 1.2 as ninety_percent_within,
  case when sag < 28.5 then 'too_little_sag' when sag > 31.5 then 'too_much_sag' else 'on_target' end as standing,
  set as mounting, 'kept' as indicator, 'seated' as posture, 0 as condition, null::double as condition_rider_kg,
  true as gap_seen, 0 as pairs, false as changed_outside, 20 + sets as revision, sets - 1 as swaps, sets as sets,
  1 as trail_checks, ['never', 'now_and_then', 'often'][1 + (h // 17 % 3)::int] as bottoming,
  ['high', 'right', 'deep'][1 + (h // 19 % 3)::int] as ride_height, ['dull', 'right', 'nervous'][1 + (h // 23 % 3)::int] as feel,
  40.0 + h // 29 % 180 / 10.0 as deepest_mm, null::varchar as bothers
 from figure
) to '{folder}' (format json, partition_by (shop, month), compression gzip, overwrite true)
"""

ASK = {
    "mean swaps a month": """
select substr(session, 1, 7) as month, count(*) as sessions, avg(swaps) as swaps
from sets where set = sets and not demonstration group by 1 order by 1""",
    "share that ends in range, by travel": """
select travel_mm, count(*) as sessions, avg(case when standing = 'on_target' then 100.0 else 0.0 end) as percent_on_target
from sets where set = sets and step = 'closed' and not demonstration group by 1 order by 1""",
}


def make(sets, folder):
    con = duckdb.connect()
    con.execute("set preserve_insertion_order = false; set partitioned_write_max_open_files = 300")
    con.execute(MAKE.format(sets=sets, folder=folder))


def ask(folder):
    con = duckdb.connect()
    files = f"{folder}/shop=*/*/*.gz"
    con.execute(f"create view sets as from read_json('{files}', format = 'newline_delimited', hive_partitioning = true)")
    for question, query in ASK.items():
        began = time.time()
        answer = con.sql(query).fetchall()
        print(*answer, f"{question}: {time.time() - began:.1f} s", sep="\n")


if sys.argv[1] == "ask":
    ask(sys.argv[2])
else:
    began = time.time()
    make(int(sys.argv[1]), sys.argv[2])
    print(f"made in {time.time() - began:.0f} s")
