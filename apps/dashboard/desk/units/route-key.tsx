/** What the blocks of a route mean. */
export function RouteKey() {
  return (
    <ul className="route-key" aria-label="What the blocks mean">
      <li>
        <i className="route-key__block route-step--heat" aria-hidden="true" /> heat
      </li>
      <li>
        <i className="route-key__block route-step--bake" aria-hidden="true" /> bake
      </li>
      <li>
        <i className="route-key__block route-step--work" aria-hidden="true" /> without heat
      </li>
      <li>
        <i className="route-key__block route-step--paper" aria-hidden="true" /> on paper
      </li>
      <li>
        <b aria-hidden="true">●</b> excursion counted
      </li>
      <li>
        <b aria-hidden="true">○</b> possible, not counted
      </li>
      <li>
        <i className="route-key__block route-span--hold" aria-hidden="true" /> hold
      </li>
      <li>
        <i className="route-key__block route-span--clearance" aria-hidden="true" /> clearance
      </li>
    </ul>
  );
}
